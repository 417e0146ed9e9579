import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { GitFolder } from "./git-folder.ts";
import { CLEAR, folderWith, type Ran, runIn, WRONG } from "./run-in.ts";

const SHOP = "instruments:\n  P1: { measures: pressure, range: 0 to 10 psi }\n";

const staged = (at: GitFolder, ...more: readonly string[]): Promise<Ran> =>
  runIn(at.folder, ["check", "--staged", ...more]);

describe("check --staged", () => {
  it("reads the index, before the first commit too, and not the work tree", async () => {
    const at = new GitFolder({ "a.md": WRONG });
    at.git("add", "a.md");
    at.write("a.md", CLEAR);
    const ran = await staged(at);
    expect(ran).toMatchObject({ status: 1, err: "" });
    expect(ran.out).toContain("a.md:11:17  error  unit/decimal-comma");
    at.git("add", "a.md");
    at.write("a.md", WRONG);
    const mended = await staged(at);
    expect(mended).toMatchObject({ status: 0, err: "" });
    expect(mended.out).toContain("Checked 1 job note: nothing to report.\n");
  });

  it("looks only at what the commit changes, wherever in the repository it is started", async () => {
    const at = new GitFolder({
      "old.md": WRONG,
      "lamps/a.md": CLEAR,
      "tanks/b.md": CLEAR,
      "README.md": "x\n",
    });
    at.commitAll("first");
    expect((await staged(at)).out).toBe("No job note was found.\n");
    at.write("lamps/a.md", WRONG);
    at.write("tanks/b.md", WRONG);
    at.write("README.md", "# Not a job\n");
    at.git("add", "--all");
    at.git("rm", "--quiet", "--cached", "old.md");
    expect((await staged(at)).out).toContain("Checked 2 job notes: 2 errors.");
    const inside = await runIn(join(at.folder, "lamps"), ["check", "--staged"]);
    expect(inside.out).toMatch(/^a\.md:11:17 .*[\s\S]*^\.\.\/tanks\/b\.md:11:17 /m);
    expect((await staged(at, "tanks")).out).toContain("Checked 1 job note: 1 error.");
    expect(await staged(at, "..")).toMatchObject({ status: 2, err: "`..` is not in this git repository.\n" });
  });

  it("takes the shop file, logs and linked files from the index", async () => {
    const note = CLEAR.replace("draw: 4.2 A", "pressure: 2 psi via P1").replace(
      "# Bench supply",
      "![photo](photo.jpg)\n\n```series decay\nfrom: log.csv\nt [s], p [Pa]\n```",
    );
    const at = new GitFolder({ "jobs/a.md": note, "shop.yaml": SHOP.replace("P1", "P2") });
    at.git("add", "--all");
    at.write("shop.yaml", SHOP);
    at.write("jobs/photo.jpg", "x");
    at.write("jobs/log.csv", "0,100\n1,90\n");
    const { out } = await staged(at);
    expect(out).toContain("instrument/unknown");
    expect(out.match(/note\/missing-file/g)).toHaveLength(2);
    at.git("add", "--all");
    expect((await staged(at)).out).toContain("Checked 1 job note: nothing to report.\n");
  });

  it("takes photos that are kept out of git on purpose from where they lie", async () => {
    const note = CLEAR.replace("# Bench supply", "![photo](photos/lens.jpg)");
    const at = new GitFolder({ "a.md": note, ".gitignore": "photos/\n" });
    mkdirSync(join(at.folder, "photos"));
    at.git("add", "--all");
    expect((await staged(at)).out).toContain("note/missing-file");
    at.write("photos/lens.jpg", "x");
    expect((await staged(at)).out).toContain("nothing to report");
  });

  it("copes with file names of any kind, folders that are left out, and links", async () => {
    const at = new GitFolder({
      "a b\u00e4 -x.md": WRONG,
      "--no.md": WRONG,
      ".hidden/c.md": WRONG,
      "node_modules/d.md": WRONG,
    });
    at.git("add", "--all", "--force");
    const object = at.git("hash-object", "-w", "--", "--no.md");
    at.git("update-index", "--add", "--cacheinfo", `120000,${object.trim()},link.md`);
    const { out } = await staged(at, "--format", "json");
    const { notes } = JSON.parse(out) as { notes: { path: string }[] };
    expect(notes.map(({ path }) => path)).toEqual(["--no.md", "a b\u00e4 -x.md"]);
  });

  it("starts no program that the repository's settings name", async () => {
    const at = new GitFolder({ "a.md": CLEAR, ".gitattributes": "*.md diff=own\n" });
    at.git("config", "core.fsmonitor", "touch fsmonitor-ran; false");
    at.git("config", "diff.own.command", "touch diff-ran; false");
    at.git("config", "diff.own.textconv", "touch textconv-ran; false");
    at.git("-c", "core.fsmonitor=false", "add", "--all");
    expect(await staged(at)).toMatchObject({ status: 0, err: "" });
    expect(at.git("-c", "core.fsmonitor=false", "ls-files", "--others")).toBe("");
  });

  it("says so where there is no repository", async () => {
    const folder = folderWith({ "a.md": CLEAR });
    expect(await runIn(folder, ["check", "--staged"])).toEqual({
      status: 2,
      out: "",
      err: "This folder is in no git repository.\n",
    });
  });
});
