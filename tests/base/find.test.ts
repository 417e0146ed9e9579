import { mkdtempSync, readdirSync, readFileSync, rmSync, unlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { folderWith, runIn } from "../cli/run-in.ts";
import { makeWithLate } from "../lsp/build-server.ts";
import { earlierJobs, noteText } from "./earlier-jobs.ts";

const files = Object.fromEntries(earlierJobs.map((job) => [`${job.procedure}/${job.job}.md`, noteText(job)]));
const notes = folderWith({ ...files, "README.md": "# Not a note\n" });
const caches = mkdtempSync(join(tmpdir(), "witness-mark-cache-"));
afterAll(() => rmSync(caches, { recursive: true, force: true }));
const cache = { folder: caches, build: () => "this one" };

describe("witness-mark find", () => {
  it("lists the notes that meet a condition, with the values that it names", async () => {
    const ran = await runIn(notes, ["find", 'leak size > 1.2 mm and procedure is "evap-leak"']);
    expect(ran.status).toBe(0);
    expect(ran.out).toBe(
      `note                     job         date         leak size           complaint
----------------------   ---------   ----------   -----------------   ----------------------------
evap-leak/2030-0016.md   2030-0016   2030-05-06   1.40 mm ± 0.06 mm   code for a large vapour leak

1 of 60 job notes.
`,
    );
  });

  it("finds words in spite of a slip, best first, in some folders only", async () => {
    const ran = await runIn(notes, ["find", "--words", "foged lens", "lamp-moisture", "--format", "json"]);
    const result = JSON.parse(ran.out);
    expect(result.totals).toEqual({ found: 2, notes: 8 });
    expect(result.notes.map((note: { job: string }) => note.job)).toEqual(["2030-0003", "2030-0002"]);
    const both = await runIn(notes, ["find", "flow > 2 L/min", "--words", "water"]);
    expect(both.out).toContain("2030-0004");
    expect(both.out).not.toContain("2030-0008");
  });

  it("writes CSV that no spreadsheet takes for a formula", async () => {
    const folder = folderWith({
      "a.md": files["lamp-moisture/2030-0001.md"]?.replace("droplets inside", "=cmd('\"x') -") ?? "",
    });
    const ran = await runIn(folder, ["find", "flow > 0 L/min", "--format", "csv"]);
    expect(ran.out.split("\r\n")[1]).toMatch(/,"?'=cmd/);
    expect(ran.out).toContain(",0.42,L/min,");
  });

  it("says what is wrong with a condition and where", async () => {
    const ran = await runIn(notes, ["find", "leek size > 1 mm"]);
    expect(ran).toEqual({
      status: 2,
      out: "",
      err: "No note has a reading or field called `leek size`.\n    leek size > 1 mm\n    ^^^^^^^^^\nDid you mean `leak size`?\n",
    });
    expect(await runIn(notes, ["find"])).toMatchObject({ status: 2 });
    expect(await runIn(notes, ["find", "flow > 1 L/min", "nowhere"])).toMatchObject({
      status: 2,
      err: "nowhere is not there.\n",
    });
  });

  it("ranks notes like one that need not be among them", async () => {
    const ran = await runIn(notes, ["similar", "lamp-moisture/2030-0001.md", "--most", "2"]);
    expect(ran.status).toBe(0);
    expect(ran.out).toMatch(/^1\. lamp-moisture\/2030-0002\.md {2}2030-0002 {2}2030-05-06\n/);
    expect(ran.out).toContain("Alike: ");
    expect(ran.out).not.toContain("3. ");
    expect(await runIn(notes, ["similar", "README.md"])).toMatchObject({ status: 2, out: "" });
  });
});

describe("the cache of records", () => {
  const ask = async (more = {}): Promise<string> =>
    (await runIn(notes, ["find", "leak size > 0 mm", "--format", "json"], { cache, ...more })).out;

  it("changes the time taken and never the answer", async () => {
    const first = await ask();
    expect(readdirSync(caches)).toHaveLength(1);
    expect(await ask()).toBe(first);
    // A program that cannot analyze anything still answers from what was kept.
    const broken = {
      yaml: () => {
        throw new Error("not to be read");
      },
      procedures: () => {
        throw new Error("not to be loaded");
      },
      logs: () => {
        throw new Error("not to be loaded");
      },
      reporting: () => {
        throw new Error("not to be loaded");
      },
    };
    expect(await ask({ libraries: broken })).toBe(first);
  });

  it("follows a change, a new note and one that is gone", async () => {
    await ask();
    const path = join(notes, "lamp-moisture/2030-0001.md");
    const text = readFileSync(path, "utf8");
    writeFileSync(path, text.replace("0.39 mm", "0.77 mm"));
    writeFileSync(join(notes, "new.md"), text.replace("0.39 mm", "0.66 mm"));
    const changed = await ask();
    expect(changed).toContain('"value":0.77');
    expect(changed).toContain('"value":0.66');
    expect(changed).not.toContain('"value":0.39');
    unlinkSync(join(notes, "new.md"));
    writeFileSync(path, text);
    const back = await ask();
    expect(back).not.toContain('"value":0.66');
    expect(back).toContain('"value":0.39');
  });

  it("is of no use to another build, nor when it is damaged", async () => {
    const first = await ask();
    expect(await ask({ cache: { folder: caches, build: () => "another" } })).toBe(first);
    for (const name of readdirSync(caches)) writeFileSync(join(caches, name), "rubbish");
    expect(await ask()).toBe(first);
  });

  it("knows a finding that rests on a file beside the note", async () => {
    const many = folderWith({
      ...files,
      "pictured.md": `${noteText({ ...earlierJobs[0], job: "x" } as (typeof earlierJobs)[0])}\n![lens](lens.jpg)\n`,
    });
    const missing = async (): Promise<string> =>
      (await runIn(many, ["find", 'finding("note/missing-file")', "--format", "json"], { cache })).out;
    expect(JSON.parse(await missing()).totals.found).toBe(1);
    writeFileSync(join(many, "lens.jpg"), "");
    expect(JSON.parse(await missing()).totals.found).toBe(0);
    unlinkSync(join(many, "lens.jpg"));
    expect(JSON.parse(await missing()).totals.found).toBe(1);
  });
});

describe("records from helping threads", () => {
  const scripts = folderWith({});
  beforeAll(async () => {
    await makeWithLate(scripts, "worker");
  }, 60_000);

  it("are the same as from one", async () => {
    const args = ["find", "test pressure > 0 Pa", "--format", "json"];
    const alone = await runIn(notes, args);
    const helped = await runIn(notes, args, { helpers: { script: join(scripts, "worker.js"), from: 1 } });
    expect(helped).toEqual(alone);
    const kept = await runIn(notes, args, {
      helpers: { script: join(scripts, "worker.js"), from: 1 },
      cache,
    });
    expect(kept).toEqual(alone);
  });
});
