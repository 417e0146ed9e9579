import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { folderWith, runIn } from "./run-in.ts";

const note = (steps: string, status = "open") =>
  `---\njob: 2031-0042\nprocedure: lamp-moisture\ndate: 2031-03-04\nstatus: ${status}\n---\n\n\`\`\`steps\n${steps}\n\`\`\`\n`;

const SEALED = note(
  [
    "08:40  isolate power",
    "08:50  locate [seam]: found, crack seen",
    "09:00  drain",
    "09:10  dry: fan, 2 h",
    "11:20  inspect: none",
    "11:30  clean [seam]",
    "11:40  seal [seam]: silicone",
  ].join("\n"),
);

describe("next", () => {
  it("says what to do now, what waits until when, and what may not be done yet", async () => {
    const folder = folderWith({ "lamp.md": SEALED });
    const { status, out, err } = await runIn(folder, ["next", "lamp.md"]);
    expect({ status, err }).toEqual({ status: 0, err: "" });
    const text = out.replace(/\s+/g, " ");
    expect(text).toContain("Wait - `cure` [seam]: until 2031-03-05 11:40, since the sealant's cure time");
    expect(text).toContain("Not yet");
    expect(text).toContain("`water test` [seam]");
    expect(text).toContain("With these the job is repaired.");
    // Every caution of the procedure, each time.
    for (const caution of builtInProcedures.find(({ id }) => id === "lamp-moisture")?.cautions ?? []) {
      expect(text).toContain(caution.replace(/\s+/g, " "));
    }
    expect(out.split("\n").every((line) => line.length <= 100)).toBe(true);
  });

  it("says why a step may not be done yet", async () => {
    const folder = folderWith({
      "lamp.md": note("08:40  isolate power\n--:--  dry: fan\n--:--  seal [seam]"),
    });
    const { out } = await runIn(folder, ["next", "lamp.md"]);
    const text = out.replace(/\s+/g, " ");
    expect(text).toContain("`seal` [seam]: needs the leak located, the inside dry and a clean surface. ");
  });

  it("has nothing to say of a job that is at its end", async () => {
    const done = note("08:40  assess: fog\n08:50  function check: pass", "done\noutcome: no fault found");
    const { out } = await runIn(folderWith({ "lamp.md": done }), ["next", "lamp.md"]);
    expect(out).toContain("Nothing is left to do: the job is no fault found.");
  });

  it.each([
    ["missing.md", "missing.md is not there.\n"],
    ["prose.md", "prose.md is no job note: its front matter has no `job:`.\n"],
    ["odd.md", "odd.md names no procedure that is known. Add `procedure:` with one of lamp-moisture, "],
  ])("fails on %s", async (file, says) => {
    const folder = folderWith({ "prose.md": "# Prose\n", "odd.md": "---\njob: 1\nprocedure: odd\n---\n" });
    const ran = await runIn(folder, ["next", file]);
    expect(ran.status).toBe(2);
    expect(ran.err).toContain(says);
  });
});

describe("new", () => {
  it.each(builtInProcedures.map(({ id }) => id))(
    "%s writes a note that checks clear, with its cautions",
    async (id) => {
      const folder = folderWith({});
      const ran = await runIn(folder, ["new", id, "2031-0042.md"]);
      expect(ran).toMatchObject({ status: 0, err: "" });
      const text = readFileSync(join(folder, "2031-0042.md"), "utf8");
      const procedure = builtInProcedures.find((one) => one.id === id);
      for (const caution of procedure?.cautions ?? []) expect(text).toContain(caution);
      for (const { name } of procedure?.readings ?? []) expect(text).toContain(name);
      for (const step of procedure?.usual ?? []) expect(text).toContain(`--:--  ${step}`);
      expect(text).toContain("job: 2031-0042\n");
      expect(text).toContain("date: 2031-03-04\n");
      const checked = await runIn(folder, ["check", "2031-0042.md"]);
      expect(checked.out).toMatch(/\nChecked 1 job note: nothing to report\.\n$/);
      // The cautions of the work in hand stand at the end of the report, wrapped to the line.
      const said = checked.out.replace(/\s+/g, " ");
      for (const caution of procedure?.cautions ?? []) expect(said).toContain(caution);
      // Nothing but the note is left behind.
      expect(readdirSync(folder).sort()).toEqual([".git", "2031-0042.md"]);
    },
  );

  it("never changes a file that is there", async () => {
    const folder = folderWith({ "old.md": "mine\n" });
    const ran = await runIn(folder, ["new", "general", "old.md"]);
    expect(ran).toMatchObject({ status: 2, err: "old.md is there already and stays as it is.\n" });
    expect(readFileSync(join(folder, "old.md"), "utf8")).toBe("mine\n");
  });

  it("prints the note where no file is named, and the procedures where none is", async () => {
    const folder = folderWith({});
    expect((await runIn(folder, ["new", "general"])).out).toContain("procedure: general\n");
    expect((await runIn(folder, ["new"])).out).toContain("  lamp-moisture          Moisture in a lamp\n");
    expect(readdirSync(folder)).toEqual([".git"]);
  });

  it("offers the nearest procedure, and knows the shop's own", async () => {
    const ran = await runIn(folderWith({}), ["new", "lamp-moistur"]);
    expect(ran).toMatchObject({ status: 2 });
    expect(ran.err).toContain("Did you mean `lamp-moisture`?");
    const nowhere = await runIn(folderWith({}), ["new", "general", "no/such/folder.md"]);
    expect(nowhere).toMatchObject({
      status: 2,
      err: "no/such/folder.md cannot be written: its folder is not there, so make the folder first.\n",
    });
  });
});
