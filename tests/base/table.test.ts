import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { enNumber, statisticsOf } from "../../server/src/base/statistics.ts";
import { folderWith, runIn } from "../cli/run-in.ts";

const note = (job: number, day: string, subject: string, body: string): string =>
  `---\njob: 2031-${job}\nx-invented: true\nprocedure: general\nsubject: ${subject}\ndate: ${day}\nstatus: open\n---\n\n${body}`;
const readings = (...lines: string[]): string => `\`\`\`readings\n${lines.join("\n")}\n\`\`\`\n`;

const folder = folderWith({
  "1.md": note(
    1,
    "2029-01-10",
    "rear lamp",
    readings("leak size: 0.2 mm", "bay humidity: 40 %", "outlet pressure: 0.80 psi ± 0.02 psi via P2") +
      "\n```steps\n09:00  dry: until 10:30\n```\n",
  ),
  "2.md": note(
    2,
    "2030-01-10",
    "rear lamp",
    readings("leak size: 400 µm", "bay humidity: 60 %", "outlet pressure: 0.84 psi ± 0.02 psi via P2") +
      "\n```steps\n09:00  dry: until 12:00\n```\n",
  ),
  "3.md": note(
    3,
    "2031-01-10",
    "cab <roof>",
    readings("leak size: 0.9 mm", "outlet pressure: 0.79 psi ± 0.02 psi via P4"),
  ),
  "4.md": note(
    4,
    "2031-02-10",
    "testers",
    `\`\`\`readings A\noutlet pressure: 12.5 inH2O ± 0.2 inH2O via P2\n\`\`\`\n\n\`\`\`readings B\noutlet pressure: 13.6 inH2O ± 0.2 inH2O via P4\n\`\`\`\n`,
  ),
});

describe("statistics", () => {
  it("agree with the certified values of a set made to upset them", () => {
    // NIST Statistical Reference Datasets, univariate, NumAcc1 (from memory): mean 10000002, deviation 1.
    expect(statisticsOf([10000001, 10000003, 10000002])).toMatchObject({ mean: 10000002, spread: 1 });
  });

  it("interpolate quantiles as type 7 of Hyndman and Fan", () => {
    // What `quantile(c(1, 2, 4, 8))` gives in R, whose default is type 7 (from memory): 1, 1.75, 3, 5, 8.
    expect(statisticsOf([8, 1, 4, 2])).toMatchObject({
      count: 4,
      least: 1,
      lowerQuarter: 1.75,
      median: 3,
      upperQuarter: 5,
      greatest: 8,
    });
    expect(statisticsOf([5])).toMatchObject({ mean: 5, spread: undefined, median: 5 });
    expect(statisticsOf([])).toBeUndefined();
  });

  it("give the En number by its definition", () => {
    expect(enNumber(10, Math.hypot(3, 4))).toBe(2);
    expect(enNumber(-1, 0)).toBeUndefined();
  });
});

describe("witness-mark table", () => {
  it("gathers a value from all notes, each in its own unit", async () => {
    const ran = await runIn(folder, ["table", "leak size"]);
    expect(ran).toEqual({
      status: 0,
      err: "",
      out: `value            count   mean   spread   least   lower quarter   median   upper quarter   greatest
--------------   -----   ----   ------   -----   -------------   ------   -------------   --------
leak size [mm]       3    0.5   0.3606     0.2             0.3      0.4            0.65        0.9
`,
    });
  });

  it("groups by a field, in a unit of choice, and calculates", async () => {
    const ran = await runIn(folder, [
      "table",
      "leak size [µm]",
      "leak size * 2",
      "--by",
      "subject",
      "--format",
      "json",
    ]);
    const { groups } = JSON.parse(ran.out);
    expect(
      groups.map((one: { value: string; group: string; mean: number; unit: string }) => [
        one.value,
        one.group,
        Number(one.mean.toPrecision(9)),
        one.unit,
      ]),
    ).toEqual([
      ["leak size", "cab <roof>", 900, "µm"],
      ["leak size", "rear lamp", 300, "µm"],
      ["leak size * 2", "cab <roof>", 1.8, "mm"],
      ["leak size * 2", "rear lamp", 0.6, "mm"],
    ]);
  });

  it("keeps to the notes that meet a condition", async () => {
    const ran = await runIn(folder, ["table", "leak size", "--where", 'date >= "2030"', "--format", "csv"]);
    expect(ran.out.split("\r\n")[1]).toMatch(/^leak size,mm,2,0\.65,/);
  });

  it("compares what two instruments read in one note by En numbers", async () => {
    const ran = await runIn(folder, ["table", "outlet pressure [inH2O]", "--compare", "P2,P4"]);
    // The half-width ± 0.2 is a rectangle: U = 2 * 0.2 / √3 = 0.231 for each; En = -1.1 / (0.231 √2) = -3.37.
    expect(ran.out).toMatch(
      /4\.md +2031-02-10 +outlet pressure +12\.50 inH2O ± 0\.23 inH2O +13\.60 inH2O ± 0\.23 inH2O +-3\.37 +differ/,
    );
    expect(ran.out).not.toContain("1.md");
    const labels = await runIn(folder, [
      "table",
      "outlet pressure",
      "--by",
      "label",
      "--compare",
      "A,B",
      "--format",
      "json",
    ]);
    expect(JSON.parse(labels.out).pairs).toHaveLength(1);
  });

  it("lets what two results share cancel, by a check worked by hand", async () => {
    const shop = `instruments:
  REF: { measures: pressure, range: 0 to 100 kPa, accuracy: ± 0.3 kPa, split: { zero: 0.3 kPa, gain: 1 %, repeatability: 0.02 kPa } }
  OLD: { measures: pressure, range: 0 to 100 kPa, accuracy: ± 0.3 kPa }
`;
    const pair = (job: number, one: string, other: string): string =>
      note(
        job,
        "2031-02-10",
        "testers",
        `\`\`\`readings A\noutlet pressure: ${one}\n\`\`\`\n\n\`\`\`readings B\noutlet pressure: ${other}\n\`\`\`\n`,
      );
    const bench = folderWith({
      "shop.yaml": shop,
      "1.md": pair(1, "20.0 kPa via REF", "20.2 kPa via REF"),
      "2.md": pair(2, "20.0 kPa via REF", "20.2 kPa via OLD"),
      "3.md": pair(3, "20.0 kPa via OLD", "20.2 kPa via OLD"),
    });
    const args = ["table", "outlet pressure", "--by", "label", "--compare", "A,B"];
    const { pairs } = JSON.parse((await runIn(bench, [...args, "--format", "json"])).out);
    // JCGM 100:2008, clause 5.2 (from memory): u²(a − b) = u²(a) + u²(b) − 2 cov(a, b). Through one gauge:
    //   zero  0.3 kPa/√3 for both alike          weighs 1 − 1 = 0
    //   gain  0.01/√3 for both alike             weighs 20.0 − 20.2 = −0.2: (0.2 · 0.01/√3)² = 1.3333e-6 kPa²
    //   repeatability, each its own              2 · 0.02² = 8.0000e-4 kPa²
    // u = √8.013333e-4 = 0.0283079, U = 0.0566157, En = −0.2 / 0.0566157 = −3.5326. Taken as independent, each
    // U would be 2 √(0.1732² + (20 · 0.0057735)² + 0.02²) = 0.418, and En only −0.34.
    expect(pairs[0]).toMatchObject({ shared: true, through: [] });
    expect(pairs[0].differenceUncertainty).toBeCloseTo(0.0566157, 6);
    expect(pairs[0].en).toBeCloseTo(-3.5326, 3);
    // Two gauges: a: 0.03 + 0.0133333 + 0.0004 (0.3²/3, (20 · 0.01)²/3, 0.02²); b: 0.3²/3 = 0.03.
    // U = 2 √0.0737333 = 0.543078, En = −0.368271.
    expect(pairs[1]).toMatchObject({ shared: false, through: [] });
    expect(pairs[1].en).toBeCloseTo(-0.368271, 5);
    // One gauge with an error not split: the cautious U is that of independent errors, 2 √(2 · 0.03) = 0.489898.
    expect(pairs[2]).toMatchObject({ shared: false, through: ["old"] });
    expect(pairs[2].en).toBeCloseTo(-0.2 / 0.489898, 5);
    const { out } = await runIn(bench, args);
    expect(out).toContain("1 of 3 pairs differ by more than their uncertainty explains");
    expect(out).toContain("What the two results have in common cancels in the En number of 1 of 3 pairs.");
    expect(out).toContain("Both sides were read through OLD.");
    const csv = (await runIn(bench, [...args, "--format", "csv"])).out.split("\r\n");
    expect(csv[0]).toMatch(/,difference,en,difference uncertainty,shared,through$/);
    expect(csv[3]).toMatch(/,no,old$/);
    // A formula of readings shares what its readings do: B − A is the same as before with the sign turned.
    const ratio = await runIn(bench, [
      ...args.slice(0, 1),
      "outlet pressure * 2",
      ...args.slice(2),
      "--format",
      "json",
    ]);
    expect(JSON.parse(ratio.out).pairs[0].en).toBeCloseTo(-3.5326, 3);
  });

  it("plots by group, over another value or the days, into a file that is well formed", async () => {
    const plot = async (...args: string[]): Promise<string> => {
      const ran = await runIn(folder, ["table", ...args, "--plot", "p.svg"]);
      expect(ran.err).toBe("The plot is in p.svg.\n");
      return readFileSync(join(folder, "p.svg"), "utf8");
    };
    const groups = await plot("leak size", "--by", "subject");
    expect(groups).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
    expect(groups).toContain("cab &lt;roof&gt;");
    const over = await plot('duration("dry") [h]', "--against", "bay humidity");
    expect(over).toContain("over bay humidity [%]");
    expect(over.match(/transform="translate/g)).toHaveLength(2);
    const years = await plot("outlet pressure", "--by", "instrument", "--against", "date");
    expect(years).toContain(">2030</text>");
    expect(years).toContain(">P4</text>");
    for (const svg of [groups, over, years]) expect(svg).not.toMatch(/NaN|undefined/);
    expect(readdirSync(folder).filter((name) => name.endsWith(".part"))).toEqual([]);
  });

  it("marks the days on which the instruments of the values were calibrated", async () => {
    const shop = `instruments:
  P2:
    measures: pressure
    range: 0 to 5 psi
    calibrated: [2029-06-01, 2030-06-03, 2020-01-01]
    interval: 12 months
  P4: { measures: pressure, range: 0 to 5 psi, calibrated: 2030-06-03 }
  P9: { measures: pressure, range: 0 to 5 psi, calibrated: 2030-02-02 }
`;
    const years = folderWith({
      "shop.yaml": shop,
      ...Object.fromEntries(
        ["2029-01-10", "2030-01-10", "2031-01-10"].map((day, i) => [
          `${i}.md`,
          note(i, day, "tester", readings(`outlet pressure: 0.8${i} psi via ${i === 1 ? "p4" : "P2"}`)),
        ]),
      ),
    });
    const plot = async (...args: string[]): Promise<string> => {
      await runIn(years, ["table", "outlet pressure", "--plot", "p.svg", ...args]);
      return readFileSync(join(years, "p.svg"), "utf8");
    };
    const svg = await plot("--against", "date");
    // In words for those who hear it; for those who see it dashed lines with names, and the days below.
    const days = ["P2 calibrated 2029-06-01, 2030-06-03", "P4 calibrated 2030-06-03"];
    expect(svg).toContain(`<desc>${days.join("; ")}</desc>`);
    for (const says of days) expect(svg).toContain(`>${says}</text>`);
    for (const name of ["P2", "P2, P4"]) expect(svg).toContain(`text-anchor="middle">${name}</text>`);
    expect(svg.match(/<path d="M[\d.]+ \d+V\d+"[^>]*dasharray/g)).toHaveLength(2);
    // Neither one of an instrument that read nothing here, nor one far before the first reading.
    expect(svg).not.toMatch(/P9|2020/);
    // Both lines stand between the readings before and after them.
    const at = [...svg.matchAll(/<path d="M([\d.]+) \d+V\d+"[^>]*dasharray/g)].map(([, x]) => Number(x));
    const points = [...svg.matchAll(/transform="translate\(([\d.]+) [\d.]+\)"><\/path>/g)].map(([, x]) =>
      Number(x),
    );
    expect([at[0], points[1], at[1]]).toEqual([at[0], points[1], at[1]].sort((a = 0, b = 0) => a - b));
    expect(svg).not.toMatch(/NaN|undefined/);
    expect(await plot("--by", "instrument")).not.toContain("dasharray");
  });

  it("says what it cannot do", async () => {
    const says = async (...args: string[]): Promise<string> => {
      const ran = await runIn(folder, ["table", ...args]);
      expect(ran.status).toBe(2);
      return ran.err;
    };
    expect(await says("leek size")).toContain("Did you mean `leak size`?");
    expect(await says("leak size [psi]")).toContain("is a length and cannot be shown in psi");
    expect(await says("leak size [smoot]")).toContain("is no unit");
    expect(await says("leak size", "--by", "colour")).toContain("Nothing is called `colour`");
    expect(await says("leak size", "--compare", "P2")).toContain("Two are compared");
    expect(await says("leak size", "1.md")).toContain("Say where to look with --in, as in --in 1.md.");
    expect(await says("leak size", "--plot", "no/such/p.svg")).toContain("is not there");
  });
});
