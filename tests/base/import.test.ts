import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { CLEAR, folderWith, runIn } from "../cli/run-in.ts";

const long = [
  "Time (s);Druck [kPa];Note",
  ...Array.from({ length: 400 }, (_, i) => `${i};${(30 - i / 100).toFixed(2).replace(".", ",")};ok`),
];
const folder = folderWith({
  "plain.csv": "t [s],p [inH2O],T [degC]\n0,12.0,19.5\n60,11.4,19.5\n120,,19.6\n",
  "german.csv":
    "Messger\u00e4t 7\r\nStart;jetzt\r\nZeit;Druck;Temperatur;Status\r\ns;kPa;\u00b0C;\r\n0;12,5;19,5;ok\r\n1;+12,4;-0,5;ok\r\n",
  "clock.csv": "when,Volt, V\n2031-03-04 09:00:00,12.6,x\n2031-03-04 09:00:30,12.5,x\n",
  "bare.csv": "1,2.5\n2,2.6\n",
  "odd.csv": "is,is,pressure (furlongs),2nd\n1,2,3,4\n5,oops,7,8\n",
  "long.csv": `${long.join("\n")}\n`,
  "words.csv": "a,b\nc,d\n",
  "quote.csv": 'a,b\n"1,2\n',
  "note.md": CLEAR.replaceAll("\n", "\r\n"),
});

describe("witness-mark import", () => {
  it("writes a logger's file as a series block", async () => {
    const ran = await runIn(folder, ["import", "plain.csv", "--name", "decay"]);
    expect(ran).toEqual({
      status: 0,
      err: "",
      out: "```series decay\nt [s], p [inH2O], T [degC]\n0, 12.0, 19.5\n60, 11.4, 19.5\n120, , 19.6\n```\n",
    });
  });

  it("knows the units of the shop that the note belongs to", async () => {
    const shops = folderWith({
      "log.csv": "t [s],used [can],fill\n0,1,2\n5,2,3\n",
      "shop/shop.yaml": "units: { can: 20 L }\n",
      "shop/note.md": CLEAR,
    });
    const ran = await runIn(shops, ["import", "log.csv", "--into", "shop/note.md"]);
    expect(ran.err).toBe("The series log is at the end of shop/note.md.\n");
    expect(readFileSync(join(shops, "shop/note.md"), "utf8")).toContain("t [s], used [can]");
    const elsewhere = await runIn(shops, ["import", "log.csv"]);
    expect(elsewhere.err).toContain("The unit `can` of the column “used [can]” is not known");
  });

  it("finds separator, decimal sign, lines before the table and a line of units by itself", async () => {
    const ran = await runIn(folder, ["import", "german.csv"]);
    expect(ran.out).toBe(
      "```series log\nZeit [s], Druck [kPa], Temperatur [°C]\n0, 12.5, 19.5\n1, 12.4, -0.5\n```\n",
    );
    expect(ran.err).toBe("The column “Status” holds no numbers and is left out.\n");
  });

  it("turns moments into seconds, and names columns so that formulas can use them", async () => {
    const clock = await runIn(folder, ["import", "clock.csv"]);
    expect(clock.out).toContain("when [s], Volt\n0, 12.6\n30, 12.5\n");
    expect((await runIn(folder, ["import", "bare.csv"])).out).toContain("column 1, column 2\n1, 2.5\n");
    const odd = await runIn(folder, ["import", "odd.csv"]);
    expect(odd.out).toContain("column 1, column 2, pressure, nd\n1, 2, 3, 4\n5, , 7, 8\n");
    expect(odd.err).toContain("The unit `furlongs` of the column “pressure (furlongs)” is not known");
    expect(odd.err).toContain("1 cell holds no number and is left empty.");
  });

  it("points to a long file, puts the block at a note's end, and the note checks clean", async () => {
    const ran = await runIn(folder, ["import", "long.csv", "--name", "decay", "--into", "note.md"]);
    expect(ran.status).toBe(0);
    const note = readFileSync(join(folder, "note.md"), "utf8");
    expect(note).toContain(
      "```series decay\r\nfrom: long.csv\r\nseparator: semicolon\r\ndecimal: comma\r\nTime [s], Druck [kPa]\r\n```\r\n",
    );
    expect(note).not.toMatch(/[^\r]\n/);
    expect(await runIn(folder, ["check", "note.md"])).toMatchObject({ status: 0 });
    const thinned = await runIn(folder, ["import", "long.csv", "--every", "100"]);
    expect(thinned.out.split("\n")).toHaveLength(8);
  });

  it("says why there is nothing to import", async () => {
    const says = async (file: string): Promise<string> => {
      const ran = await runIn(folder, ["import", file]);
      expect(ran).toMatchObject({ status: 2, out: "" });
      return ran.err;
    };
    expect(await says("nowhere.csv")).toBe("nowhere.csv is not there.\n");
    expect(await says("words.csv")).toContain("None of its columns holds numbers");
    expect((await runIn(folder, ["import", "plain.csv", "--name", "a`b"])).err).toContain("cannot be called");
    expect(await says("quote.csv")).toContain("a quote is opened and not closed");
  });
});
