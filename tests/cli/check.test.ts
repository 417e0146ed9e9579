import { mkdirSync, symlinkSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { readLog } from "../../server/src/host/read-log.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import * as reporting from "../../server/src/reporting.ts";
import { jsonResult } from "./json-result.ts";
import { CLEAR, folderWith, type Ran, runIn, WRONG } from "./run-in.ts";

const read = ({ out }: Ran) => jsonResult.parse(JSON.parse(out));
const paths = (ran: Ran): string[] => read(ran).notes.map(({ path }) => path);

describe("check", () => {
  it("shows the cautions of work that goes on, once, and not of work that is done in order", async () => {
    const open = CLEAR;
    const done = CLEAR.replace("status: open", "status: done\noutcome: declined");
    const both = await runIn(folderWith({ "a.md": open, "b.md": open }), ["check"]);
    expect(both.out.match(/^Caution: /gm)).toHaveLength(1);
    expect((await runIn(folderWith({ "a.md": done }), ["check"])).out).not.toContain("Caution");
    expect((await runIn(folderWith({ "a.md": open }), ["check", "--quiet"])).out).toBe("");
  });

  it("ends with 0 when no note has an error", async () => {
    const ran = await runIn(folderWith({ "a.md": CLEAR }), ["check"]);
    expect(ran).toMatchObject({ status: 0, err: "" });
    expect(ran.out).toMatch(/^Caution: Any other job\n[\s\S]*\nChecked 1 job note: nothing to report\.\n$/);
  });

  it("ends with 1 when a note has an error", async () => {
    const ran = await runIn(folderWith({ "a.md": CLEAR, "b/c.md": WRONG }), ["check"]);
    expect(ran.status).toBe(1);
    expect(ran.out).toContain("b/c.md:11:17  error  unit/decimal-comma: ");
    expect(ran.out).toContain("    11  supply voltage: 12,6 V\n                        ╰──╯\n");
    expect(ran.out).toContain("Checked 2 job notes: 1 error.\n");
  });

  it("ends with 0 in spite of errors with --exit-zero, but not when the work could not be done", async () => {
    const folder = folderWith({ "a.md": WRONG });
    expect(await runIn(folder, ["check", "--exit-zero"])).toMatchObject({ status: 0 });
    expect(await runIn(folder, ["check", "--exit-zero", "nowhere.md"])).toMatchObject({ status: 2 });
  });

  it("gives the fixed form as JSON, and the same findings as the readable report", async () => {
    const folder = folderWith({ "a.md": CLEAR, "b.md": WRONG });
    const ran = await runIn(folder, ["check", ".", "--format", "json"]);
    const result = read(ran);
    expect(ran.status).toBe(1);
    expect(result.totals).toEqual({ notes: 2, errors: 1, warnings: 0 });
    expect(result.notes.map(({ path, job, status }) => ({ path, job, status }))).toEqual([
      { path: "a.md", job: "2031-0001", status: "open" },
      { path: "b.md", job: "2031-0001", status: "open" },
    ]);
    expect(result.notes[1]?.findings).toMatchObject([
      { rule: "unit/decimal-comma", severity: "error", line: 11, column: 17, endLine: 11, endColumn: 21 },
    ]);
  });

  it("sees the same with CRLF and with a byte order mark", async () => {
    const folder = folderWith({ "a.md": WRONG, "b.md": `\uFEFF${WRONG.replaceAll("\n", "\r\n")}` });
    const { notes } = read(await runIn(folder, ["check", "--format", "json"]));
    expect(notes[1]?.findings).toEqual(notes[0]?.findings);
    expect(notes[1]?.values).toEqual(notes[0]?.values);
    expect(notes[0]?.findings).toHaveLength(1);
  });

  it("leaves out all but errors with --quiet", async () => {
    const folder = folderWith({ "a.md": WRONG });
    expect((await runIn(folder, ["check", "--quiet"])).out).not.toContain("Checked");
    expect((await runIn(folder, ["check", "--quiet"])).out).toContain("unit/decimal-comma");
    expect((await runIn(folderWith({ "a.md": CLEAR }), ["check", "--quiet"])).out).toBe("");
  });

  it("shows what a note derives with --values", async () => {
    const note = CLEAR.replace("draw: 4.2 A", "draw: 4.2 A\npower [W] = supply voltage * draw  ≈ 53 W");
    const { out } = await runIn(folderWith({ "a.md": note }), ["check", "--values"]);
    expect(out).toMatch(/^a\.md {2}job 2031-0001 {2}open\n {4}power {3}52\.9 W ± 0\.8 W {3}recorded\n/);
  });
});

describe("which files are checked", () => {
  it("are markdown files with a job, in all folders but hidden ones and node_modules", async () => {
    const folder = folderWith({
      "a.md": CLEAR,
      "deep/er/B.MD": CLEAR,
      "c.markdown": CLEAR,
      "README.md": "# Not a job\n",
      "notes.txt": CLEAR,
      ".hidden/d.md": CLEAR,
      "node_modules/x/e.md": CLEAR,
    });
    expect(paths(await runIn(folder, ["check", "--format", "json"]))).toEqual([
      "a.md",
      "c.markdown",
      "deep/er/B.MD",
    ]);
    expect(paths(await runIn(folder, ["check", ".hidden", "--format", "json"]))).toEqual([".hidden/d.md"]);
  });

  it("are checked once, however often they are named", async () => {
    const folder = folderWith({ "a.md": CLEAR, "b.md": CLEAR });
    expect(paths(await runIn(folder, ["check", ".", "a.md", "./a.md", "--format", "json"]))).toEqual([
      "a.md",
      "b.md",
    ]);
  });

  it("may be reached through links, but no circle of folders is followed", async () => {
    const folder = folderWith({ "real/a.md": CLEAR });
    symlinkSync(folder, join(folder, "real/round"));
    symlinkSync(join(folder, "real/a.md"), join(folder, "linked.md"));
    symlinkSync(join(folder, "nowhere.md"), join(folder, "dead.md"));
    expect(paths(await runIn(folder, ["check", "--format", "json"]))).toEqual(["linked.md", "real/a.md"]);
  });

  it("are told apart by path from the folder of the command, also above it", async () => {
    const folder = folderWith({ "a.md": CLEAR, "sub/b.md": CLEAR });
    expect(paths(await runIn(join(folder, "sub"), ["check", "..", "--format", "json"]))).toEqual([
      "../a.md",
      "b.md",
    ]);
  });

  it("may be none at all", async () => {
    const folder = folderWith({});
    expect(await runIn(folder, ["check"])).toEqual({ status: 0, out: "No job note was found.\n", err: "" });
    const ran = await runIn(folder, ["check", "--format", "json"]);
    expect(ran.status).toBe(0);
    expect(read(ran)).toEqual({ version: 1, notes: [], totals: { notes: 0, errors: 0, warnings: 0 } });
  });

  it("say so when one that was named is no job note", async () => {
    const ran = await runIn(folderWith({ "README.md": "# Not a job\n" }), ["check", "README.md"]);
    expect(ran.status).toBe(0);
    expect(ran.err).toBe("README.md is no job note: its front matter has no `job:`.\n");
  });
});

describe("what cannot be read", () => {
  it("a path that is not there is said, the rest is checked, and the status is 2", async () => {
    const ran = await runIn(folderWith({ "a.md": WRONG }), ["check", "nowhere.md", "a.md"]);
    expect(ran.status).toBe(2);
    expect(ran.err).toBe("nowhere.md is not there.\n");
    expect(ran.out).toContain("Checked 1 job note: 1 error.");
  });

  it("a link that leads back to itself", async () => {
    const folder = folderWith({});
    symlinkSync(join(folder, "x.md"), join(folder, "x.md"));
    expect(await runIn(folder, ["check", "x.md"])).toMatchObject({
      status: 2,
      err: "x.md is a link that leads back to itself.\n",
    });
  });

  it("a picture under a note's name is left alone, unless it was asked for", async () => {
    const folder = folderWith({
      "a.md": CLEAR,
      "photo.md": Buffer.from([0x89, 0x50, 0x4e, 0x47, 0, 1, 2, 0xff]),
    });
    expect(await runIn(folder, ["check"])).toMatchObject({ status: 0, err: "" });
    expect(await runIn(folder, ["check", "photo.md"])).toMatchObject({
      status: 2,
      err: "photo.md holds bytes that are not text.\n",
    });
  });

  it("a job note with bytes that are not text is never passed over", async () => {
    const ran = await runIn(folderWith({ "a.md": `${CLEAR}\0\0` }), ["check"]);
    expect(ran).toMatchObject({ status: 2, err: "a.md holds bytes that are not text.\n" });
  });

  it("a job note in another encoding says which and where", async () => {
    const latin1 = Buffer.from(CLEAR.replace("# Bench", "# Bench at 20 °C"), "latin1");
    expect((await runIn(folderWith({ "a.md": latin1 }), ["check"])).err).toBe(
      "a.md is not written as UTF-8 (see line 8). Save it as UTF-8, or degree signs and umlauts are lost.\n",
    );
    const utf16 = Buffer.from(`\uFEFF${CLEAR}`, "utf16le");
    expect(await runIn(folderWith({ "a.md": utf16 }), ["check"])).toMatchObject({
      status: 2,
      err: "a.md is written as UTF-16. Save it as UTF-8.\n",
    });
  });

  it("a note of 10 MB is refused at once; other markdown of that size is left alone", async () => {
    const padding = "word ".repeat(2_000_000);
    const folder = folderWith({ "a.md": CLEAR + padding, "b.md": padding, "c.md": CLEAR });
    const ran = await runIn(folder, ["check"]);
    expect(ran.status).toBe(2);
    expect(ran.err).toBe(
      "a.md holds more than 5 MB, which no job note needs. Keep long logs in a CSV file beside the note.\n",
    );
    expect(ran.out).toContain("Checked 1 job note");
  });

  it("a fault of our own is a sentence, and the other notes are still checked", async () => {
    const folder = folderWith({
      "a.md": CLEAR.replace("subject:", "cause: |\n  long\nsubject:"),
      "b.md": CLEAR,
    });
    const ran = await runIn(folder, ["check"], {
      libraries: {
        yaml: () => {
          throw new Error("boom");
        },
        procedures: () => builtInProcedures,
        logs: readLog,
        reporting: () => reporting,
      },
    });
    expect(ran.status).toBe(2);
    expect(ran.err).toContain("a.md could not be checked because of a fault in Witness Mark itself (boom).");
    expect(ran.err).not.toContain(" at ");
    expect(ran.out).toContain("Checked 1 job note");
  });

  it("an empty note and a note of nothing but front matter are harmless", async () => {
    const folder = folderWith({
      "a.md": "",
      "b.md": "---\n---\n",
      "c.md": "---\njob: 1\n---\n",
      "d.md": "---\njob: 1",
    });
    expect([0, 1]).toContain((await runIn(folder, ["check"])).status);
  });
});

describe("the shop file", () => {
  const BROKEN = "instruments: [\n";

  it("is the nearest one at or above the note, from whichever folder the command is started", async () => {
    const folder = folderWith({ "shop.yaml": BROKEN, "2031/a.md": CLEAR, "2031/deep/b.md": CLEAR });
    mkdirSync(join(folder, "2031/.keep"));
    for (const [start, expected] of [
      [".", "shop.yaml"],
      ["2031", "../shop.yaml"],
      ["2031/deep", "../../shop.yaml"],
    ] as const) {
      const { notes } = read(await runIn(join(folder, start), ["check", "--format", "json"]));
      expect(notes.filter(({ job }) => job === null).map(({ path }) => path)).toEqual([expected]);
    }
  });

  it("has an entry of its own when something is wrong with it, and none otherwise", async () => {
    const ran = await runIn(folderWith({ "shop.yaml": BROKEN, "a.md": CLEAR }), [
      "check",
      "--format",
      "json",
    ]);
    const { notes, totals } = read(ran);
    expect(ran.status).toBe(1);
    expect(notes[0]).toMatchObject({ path: "shop.yaml", job: null, status: null, values: [] });
    expect(notes[0]?.findings.length).toBeGreaterThan(0);
    expect(totals.notes).toBe(1);
    expect(
      paths(
        await runIn(folderWith({ "shop.yaml": "altitude: 420 m\n", "a.md": CLEAR }), [
          "check",
          "--format",
          "json",
        ]),
      ),
    ).toEqual(["a.md"]);
  });

  it("can be checked by itself", async () => {
    const ran = await runIn(folderWith({ "shop.yaml": BROKEN, "a.md": WRONG }), [
      "check",
      "shop.yaml",
      "--format",
      "json",
    ]);
    expect(paths(ran)).toEqual(["shop.yaml"]);
  });

  it("is not looked for beyond the repository", async () => {
    const folder = folderWith({ "shop.yaml": BROKEN, "inner/.git/HEAD": "", "inner/a.md": CLEAR });
    expect(paths(await runIn(join(folder, "inner"), ["check", "--format", "json"]))).toEqual(["a.md"]);
  });
});

describe("the command line itself", () => {
  const folder = folderWith({});

  it("explains itself", async () => {
    const help = await runIn(folder, ["--help"]);
    expect(help).toMatchObject({ status: 0, err: "" });
    expect(help.out).toContain("check [options] [paths...]");
    expect((await runIn(folder, ["check", "--help"])).out).toContain("Exit status:");
    expect(await runIn(folder, ["--version"])).toEqual({ status: 0, out: "0.1.0\n", err: "" });
  });

  it.each([
    [["check", "--colour"], "Unknown option '--colour'."],
    [["check", "--valeus"], "Unknown option '--valeus'"],
    [["check", "--format", "xml"], "Allowed choices are readable, json, sarif, junit, annotations."],
    [["chekc"], "Unknown command 'chekc'"],
    [["lsp", "here"], "Too many arguments"],
  ])("says what is wrong with %j and ends with 2", async (args, says) => {
    const ran = await runIn(folder, args);
    expect(ran.status).toBe(2);
    expect(ran.out).toBe("");
    expect(ran.err).toContain(says);
    expect(ran.err).not.toContain("error:");
  });

  it("without a command shows its help and ends with 2, for nothing was done", async () => {
    expect((await runIn(folder, [])).status).toBe(2);
    expect((await runIn(folder, [])).err).toContain("Usage:");
  });

  it.each([[["lsp", "--stdio"]], [["lsp"]], [["--stdio"]], [["--node-ipc"]], [["--socket=5007"]]])(
    "starts the language server with %j",
    async (args) => {
      expect(await runIn(folder, args)).toEqual({ status: undefined, out: "server started", err: "" });
    },
  );

  it("says why when the server cannot be started", async () => {
    const ran = await runIn(folder, ["lsp"], {
      startServer: () => {
        throw new Error("Cannot find module './server.js'\nRequire stack: …");
      },
    });
    expect(ran).toMatchObject({
      status: 2,
      err: "The language server could not be started: Cannot find module './server.js'.\n",
    });
  });
});
