import { spawn } from "node:child_process";
import { once } from "node:events";
import {
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { dirname, join, posix, relative } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { makeBrowserBundles } from "../../server/build/bundles.mjs";
import { shareWork } from "../../server/src/cli/shared-work.ts";
import type { SitePlan } from "../../server/src/cli/site-pages.ts";
import { findTexts } from "../../server/src/host/find-texts.ts";
import { searchIndex } from "../../server/src/report/site/search.ts";
import { generateNotes } from "../generate/notes.ts";
import { makeWithLate } from "../lsp/build-server.ts";
import { CLEAR, folderWith, runIn } from "./run-in.ts";

const PNG = Buffer.from(
  "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==",
  "base64",
);

const job = (number: string, more = ""): string =>
  CLEAR.replace("job: 2031-0001", `job: ${number}${more}`).replace("# Bench supply", `# Job ${number}`);

/** Every file of a site, by its path from the top, in order. */
function filesOf(folder: string, below = ""): string[] {
  return readdirSync(join(folder, below), { withFileTypes: true })
    .flatMap((entry) => {
      const path = below === "" ? entry.name : `${below}/${entry.name}`;
      return entry.isDirectory() ? filesOf(folder, path) : [path];
    })
    .sort();
}

const read = (folder: string, path: string): string => readFileSync(join(folder, path), "utf8");

/** Links and sources of a page that lead to files, as paths from the top of the site. */
function leadsTo(page: string, html: string): string[] {
  return [...html.matchAll(/ (?:href|src|action)="([^"]*)"/g)]
    .map(([, target = ""]) => target.replace(/[?#].*$/, ""))
    .filter((target) => target !== "" && !/^[a-z]+:/.test(target))
    .map((target) => posix.normalize(posix.join(posix.dirname(page), target)));
}

describe("the site", () => {
  it("has a page for every job, and no link of it leads nowhere", async () => {
    const folder = folderWith({
      "a.md": job("2031-0001").replace(
        "# Job",
        "See [the other](deep/b.md), [nothing](c.md) and [web](https://a.invalid).\n\n# Job",
      ),
      "deep/b.md": job("2031-0002", "\ncomeback of: 2031-0001"),
      "README.md": "# Not a job\n",
    });
    const ran = await runIn(folder, ["site", "out"]);
    expect(ran).toEqual({ status: 0, out: "out holds 2 jobs. Open out/index.html.\n", err: "" });
    const site = join(folder, "out");
    const files = filesOf(site);
    expect(files).toEqual(
      expect.arrayContaining(["index.html", "jobs/a.html", "jobs/deep/b.html", "search.html"]),
    );
    expect(files.some((file) => file.includes("README"))).toBe(false);
    for (const file of files.filter((one) => one.endsWith(".html"))) {
      expect(leadsTo(file, read(site, file)).filter((target) => !files.includes(target))).toEqual([]);
    }
    expect(read(site, "jobs/a.html")).toContain('<a href="../jobs/deep/b.html">the other</a>');
    expect(read(site, "jobs/a.html")).toContain("<span>nothing</span>");
    expect(read(site, "jobs/a.html")).toMatch(
      /Came back as <a href="\.\.\/jobs\/deep\/b\.html">job 2031-0002/,
    );
    expect(read(site, "jobs/deep/b.html")).toMatch(
      /Comeback of <a href="\.\.\/\.\.\/jobs\/a\.html">job 2031-0001/,
    );
  });

  it("lets nothing that a note says become part of a page or of a script", async () => {
    const nasty = `</script><script>alert(1)</script><img src=x onerror=alert(1)>"'`;
    const folder = folderWith({
      "a<b>&'.md": job(
        "2031-1",
        `\ntitle: ${JSON.stringify(nasty)}\ncomplaint: ${JSON.stringify(nasty)}`,
      ).replace("# Job", `${nasty}\n\n[x](javascript:alert(1)) ![y](../../../etc/passwd)\n\n# Job`),
    });
    expect((await runIn(folder, ["site", "out", "--title", nasty])).status).toBe(0);
    const site = join(folder, "out");
    for (const file of filesOf(site).filter((one) => one.endsWith(".html"))) {
      const html = read(site, file);
      expect(html.match(/<script/g)?.length ?? 0).toBe(file === "search.html" ? 2 : 0);
      expect(html).not.toMatch(/<img[^>]*onerror|javascript:|passwd"/);
    }
    expect(read(site, "search-index.js")).not.toContain("</script");
  });

  it("copies pictures beside notes once, and none from outside", async () => {
    const folder = folderWith({
      "notes/shop.yaml": "altitude: 300 m\n",
      "notes/a.md": job("1").replace(
        "# Job",
        "![lens](p.png) ![out](../secret.png) ![out](linked.png)\n\n# Job",
      ),
      "notes/b.md": job("2").replace("# Job", "![lens](deep/same.png)\n\n# Job"),
      "notes/p.png": PNG,
      "notes/deep/same.png": PNG,
      "secret.png": Buffer.concat([PNG, Buffer.from("secret")]),
    });
    symlinkSync("../secret.png", join(folder, "notes/linked.png"));
    await runIn(folder, ["site", "out", "notes"]);
    const site = join(folder, "out");
    const pictures = filesOf(site).filter((file) => file.startsWith("pictures/"));
    expect(pictures).toHaveLength(1);
    expect(readFileSync(join(site, pictures[0] ?? ""))).toEqual(PNG);
    expect(read(site, "jobs/a.html")).toContain(`<img src="../${pictures[0]}" alt="lens">`);
    expect(read(site, "jobs/a.html")).toContain("[picture: out]");
  });

  it("gives every note a page of its own, whatever the names of the files", async () => {
    const files = [
      "A b.md",
      "a-b.md",
      "a_b.md",
      "\u00e4.md",
      "a\u0308.md",
      "con.md",
      "..md",
      "\u4e16.md",
      "x/../y.md",
      `${"l".repeat(200)}.md`,
    ];
    const folder = folderWith(Object.fromEntries(files.map((file, i) => [file, job(`2031-${i}`)])));
    await runIn(folder, ["site", "out"]);
    const pages = filesOf(join(folder, "out")).filter((file) => file.startsWith("jobs/"));
    expect(new Set(pages.map((page) => page.toLowerCase())).size).toBe(files.length);
    for (const page of pages) expect(page).toMatch(/^jobs\/[A-Za-z0-9_-][A-Za-z0-9._-]*\.html$/);
    expect(pages.some((page) => /\/con\.html$/i.test(page))).toBe(false);
  });
});

describe("the folder of the site", () => {
  it("is replaced as a whole by the next site, and is never anything else", async () => {
    const folder = folderWith({
      "notes/a.md": job("1"),
      "notes/b.md": job("2"),
      "mine/keep.txt": "x",
      file: "x",
    });
    mkdirSync(join(folder, "empty"));
    symlinkSync("empty", join(folder, "link"));
    const site = (out: string) => runIn(folder, ["site", out, "notes"]);
    expect((await site("empty")).status).toBe(0);
    writeFileSync(join(folder, "empty/jobs/old.html"), "x");
    expect((await site("empty")).status).toBe(0);
    expect(existsSync(join(folder, "empty/jobs/old.html"))).toBe(false);
    for (const [out, says] of [
      ["mine", "was not made by this command"],
      ["file", "is no folder"],
      ["link", "is no folder"],
      ["nowhere/out", "the folder that it belongs in is not there"],
      ["notes", "holds the notes themselves"],
      [".", "holds the notes themselves"],
      ["..", "holds the notes themselves"],
    ] as const) {
      const ran = await site(out);
      expect(ran).toMatchObject({ status: 2, out: "" });
      expect(ran.err).toContain(says);
    }
    expect(readFileSync(join(folder, "mine/keep.txt"), "utf8")).toBe("x");
    expect(lstatSync(join(folder, "link")).isSymbolicLink()).toBe(true);
    expect(readdirSync(folder).filter((name) => name.includes(".part"))).toEqual([]);
  });

  it("may lie among the notes, and does not become part of itself", async () => {
    const folder = folderWith({ "a.md": job("1") });
    await runIn(folder, ["site", "out"]);
    const first = filesOf(join(folder, "out"));
    await runIn(folder, ["site", "out"]);
    expect(filesOf(join(folder, "out"))).toEqual(first);
  });

  it("still holds the other notes when one cannot be read, and says so", async () => {
    const folder = folderWith({ "a.md": job("1"), "b.md": Buffer.from([0x2d, 0x2d, 0x2d, 10, 0xff, 0xfe]) });
    writeFileSync(
      join(folder, "b.md"),
      Buffer.concat([Buffer.from("---\njob: 2\n---\n"), Buffer.from([0xff])]),
    );
    const ran = await runIn(folder, ["site", "out"]);
    expect(ran.status).toBe(2);
    expect(ran.err).toContain("b.md is not written as UTF-8");
    expect(ran.out).toContain("out holds 1 job.");
  });
});

describe("two hundred generated notes", () => {
  const dist = folderWith({});
  const cli = join(dist, "cli.js");
  const folder = folderWith({});

  beforeAll(async () => {
    await makeWithLate(dist, "cli", "worker");
    await makeBrowserBundles(dist);
    for (const { path, text } of generateNotes(200)) {
      mkdirSync(join(folder, "notes", dirname(path)), { recursive: true });
      writeFileSync(join(folder, "notes", path), text);
    }
  }, 90_000);

  it("become a site with tables, plots and an index for the search", async () => {
    const ran = await runIn(folder, ["site", "out", "notes"], {
      searchScript: () => readFileSync(join(dist, "site-search.js"), "utf8"),
    });
    expect(ran).toMatchObject({ status: 0, err: "" });
    const site = join(folder, "out");
    const files = filesOf(site);
    expect(files.filter((file) => file.startsWith("jobs/"))).toHaveLength(200);
    const all = new Set(files);
    for (const file of files.filter((one) => one.endsWith(".html"))) {
      expect(leadsTo(file, read(site, file)).filter((target) => !all.has(target))).toEqual([]);
    }
    expect(read(site, "values/leak-size-mm.html")).toContain('<svg class="wm-plot"');
    expect(read(site, "index.html")).toContain("200 jobs");
    expect(statSync(join(site, "search-index.js")).size).toBeLessThan(2_000_000);
  }, 60_000);

  it("become the same site, byte for byte, however the work is shared", async () => {
    const more = { searchScript: () => readFileSync(join(dist, "site-search.js"), "utf8") };
    const alone = join(folder, "out");
    const files = filesOf(alone);
    const broken = join(dist, "broken.js");
    // Takes a part of the work, leaves a page of it half-written, and breaks off.
    writeFileSync(
      broken,
      `const { workerData: { site, folder, paths, next } } = require("node:worker_threads");
       const { mkdirSync, writeFileSync } = require("node:fs");
       const { dirname, join, relative } = require("node:path");
       const mine = paths[Atomics.add(new Int32Array(next), 0, 1) * 40];
       if (mine === undefined) process.exit(3);
       const page = join(site.into, site.notes.get(relative(folder, mine)).page);
       mkdirSync(dirname(page), { recursive: true });
       writeFileSync(page, "half");
       process.exit(3);`,
    );
    for (const script of [join(dist, "worker.js"), broken, join(dist, "not-there.js")]) {
      const ran = await runIn(folder, ["site", "shared", "notes"], { ...more, helpers: { script, from: 8 } });
      expect(ran).toMatchObject({ status: 0, err: "" });
      const shared = join(folder, "shared");
      expect(filesOf(shared)).toEqual(files);
      expect(files.filter((file) => read(shared, file) !== read(alone, file))).toEqual([]);
      rmSync(shared, { recursive: true });
    }
  }, 90_000);

  it("are written by no thread any more once the work was stopped or has failed", async () => {
    const paths = findTexts(["notes"], folder).notes;
    const into = join(folder, "part");
    const notes = new Map(
      paths.map((path) => {
        const shown = relative(folder, path);
        return [shown, { page: `${shown}.html`, job: "1", subject: "", path: shown, related: [] }] as const;
      }),
    );
    const plan: SitePlan = { into, title: "T", notes, rules: new Map() };
    const helpers = { script: join(dist, "worker.js"), from: 1 };
    const work = { paths, folder, site: plan };
    const pause = { note: () => Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 20) };
    const stop = { wanted: false };
    let done = 0;
    await shareWork(
      pause,
      work,
      helpers,
      () => {
        done++;
        stop.wanted = true;
      },
      stop,
    );
    expect(done).toBeLessThan(200);
    const left = existsSync(into) ? filesOf(into) : [];
    const fails = {
      note: () => {
        throw new Error("no room");
      },
    };
    await expect(shareWork(fails, work, helpers, () => {}, { wanted: false })).rejects.toThrow("no room");
    const after = existsSync(into) ? filesOf(into) : [];
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(existsSync(into) ? filesOf(into) : []).toEqual(after);
    expect(after.length).toBeGreaterThanOrEqual(left.length);
    expect(after.length).toBeLessThan(200);
    rmSync(into, { recursive: true, force: true });
  }, 60_000);

  it("are reviewed in every form", async () => {
    for (const format of ["text", "markdown", "sarif", "junit", "annotations"]) {
      const ran = await runIn(folder, ["review", "notes", "--format", format]);
      expect(ran.err).toBe("");
      expect(ran.status).toBe(1);
      expect(ran.out.length).toBeGreaterThan(1000);
      if (format === "sarif") expect(() => JSON.parse(ran.out)).not.toThrow();
    }
  }, 60_000);

  it("leave nothing half-written when the work is broken off", async () => {
    await runIn(folder, ["site", "kept", "notes/000"]);
    const before = filesOf(join(folder, "kept"));
    const child = spawn(process.execPath, [cli, "site", "kept", "notes"], {
      cwd: folder,
      env: { ...process.env, WITNESS_MARK_CACHE: "off" },
    });
    let said = "";
    child.stderr.on("data", (piece) => {
      said += String(piece);
    });
    const part = () => readdirSync(folder).find((name) => name.endsWith(".part"));
    // As soon as pages are being written, and not before.
    for (let i = 0; i < 500 && !part(); i++) await new Promise((resolve) => setTimeout(resolve, 10));
    expect(part()).toBeDefined();
    child.kill("SIGINT");
    const [status] = await once(child, "close");
    expect(said).toBe("Stopped before the end; kept is as it was.\n");
    expect(status).toBe(2);
    expect(readdirSync(folder).sort()).toEqual([".git", "kept", "notes", "out"]);
    expect(filesOf(join(folder, "kept"))).toEqual(before);
  }, 60_000);
});

it("the index of a site is a script that sets a text and does nothing else", () => {
  expect(searchIndex([])).toMatch(/^self\.witnessMarkIndex = "(?:[^"\\]|\\.)*";\n$/);
});
