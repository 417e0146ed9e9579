import { execFileSync, spawnSync } from "node:child_process";
import { chmodSync, copyFileSync, existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Log } from "sarif";
import { beforeAll, describe, expect, it } from "vitest";
import { parse } from "yaml";
import { makeWithLate } from "../lsp/build-server.ts";
import { readXml } from "../support/read-xml.ts";
import { sarifValidator } from "../support/sarif-schema.ts";
import { GitFolder } from "./git-folder.ts";
import { CLEAR, folderWith, WRONG } from "./run-in.ts";

// The recipes as they stand in the project, with a real git and the command as a process.
const dist = folderWith({});
const recipes = join(import.meta.dirname, "../../samples/recipes");
const WITNESS_MARK = `${process.execPath} ${join(dist, "cli.js")}`;
process.env.WITNESS_MARK = WITNESS_MARK;

beforeAll(async () => {
  await makeWithLate(dist, "cli");
}, 60_000);

function withHook(at: GitFolder): GitFolder {
  const hook = join(at.folder, ".git/hooks/pre-commit");
  copyFileSync(join(recipes, "pre-commit"), hook);
  chmodSync(hook, 0o755);
  return at;
}

/** Tries to commit; gives the status and what was said. */
function commit(at: GitFolder, ...args: readonly string[]): { status: number; said: string } {
  try {
    return { status: 0, said: at.git("commit", "--message", "try", ...args) };
  } catch (fault) {
    const { status, stdout, stderr } = fault as { status: number; stdout: string; stderr: string };
    return { status, said: `${stdout}${stderr}` };
  }
}

describe("the hook", () => {
  it("keeps an error out of the first commit and lets it through once it is mended", () => {
    const at = withHook(new GitFolder({ "jobs/a.md": WRONG }));
    at.git("add", "--all");
    const first = commit(at);
    expect(first.status).toBe(1);
    expect(first.said).toContain("jobs/a.md:11:17  error  unit/decimal-comma");
    at.write("jobs/a.md", CLEAR);
    expect(commit(at).status).toBe(1);
    at.git("add", "--all");
    expect(commit(at).status).toBe(0);
  });

  it("looks at what a partial commit and `commit --all` would hold", () => {
    const at = withHook(new GitFolder({ "a.md": CLEAR, "b.md": CLEAR }));
    at.git("add", "--all");
    expect(commit(at).status).toBe(0);
    at.write("a.md", WRONG);
    at.write("b.md", CLEAR.replace("4.2 A", "4.3 A"));
    expect(commit(at, "--", "b.md").status).toBe(0);
    expect(commit(at, "--all").said).toContain("a.md:11:17  error");
    expect(commit(at, "--", "a.md").status).toBe(1);
  });

  it("stops conflict marks, in a block by the checker alone and in the prose too", () => {
    const at = withHook(new GitFolder({ "a.md": CLEAR }));
    at.git("add", "--all");
    expect(commit(at).status).toBe(0);
    const merged = (ours: string) => {
      at.git("checkout", "--quiet", "-b", `other-${ours.length}`, "main");
      at.write("a.md", CLEAR.replace("draw: 4.2 A", "draw: 4.4 A").replace("# Bench supply", "# Other"));
      at.git("commit", "--quiet", "--all", "--message", "theirs");
      at.git("checkout", "--quiet", "main");
      at.write("a.md", ours);
      at.git("commit", "--quiet", "--all", "--message", "ours", "--allow-empty");
      try {
        at.git("-c", "merge.conflictStyle=diff3", "merge", "--quiet", `other-${ours.length}`);
      } catch {
        // A conflict is what is wanted.
      }
    };
    merged(CLEAR.replace("draw: 4.2 A", "draw: 4.5 A"));
    expect(readFileSync(join(at.folder, "a.md"), "utf8")).toContain("|||||||");
    at.git("add", "--all");
    expect(commit(at).status).not.toBe(0);
    const checked = spawnSync(process.execPath, [join(dist, "cli.js"), "check", "--staged"], {
      cwd: at.folder,
      encoding: "utf8",
    });
    expect(checked.status).toBe(1);
    expect(checked.stdout).toContain("<<<<<<<");
  });
});

describe("the recipe for continuous integration", () => {
  const run = (at: GitFolder, ...args: readonly string[]) =>
    spawnSync("sh", [join(recipes, "check-notes.sh"), ...args], { cwd: at.folder, encoding: "utf8" });
  const report = (at: GitFolder, name: string) => readFileSync(join(at.folder, "reports", name), "utf8");

  it("checks all notes and leaves reports", () => {
    const at = new GitFolder({ "a.md": WRONG, "b.md": CLEAR });
    const ran = run(at);
    expect(ran.status).toBe(1);
    expect(ran.stdout).toContain("Checked 2 job notes: 1 error.");
    const log: Log = JSON.parse(report(at, "notes.sarif"));
    expect(sarifValidator()(log)).toEqual([]);
    expect(readXml(report(at, "notes.xml")).children).toHaveLength(2);
    expect(report(at, "review.md")).toContain("# Review of job notes");
  });

  it("fails a branch for its own errors alone", () => {
    const at = new GitFolder({ "a.md": WRONG });
    at.commitAll("first");
    at.git("checkout", "--quiet", "-b", "change");
    at.write("b.md", CLEAR);
    at.commitAll("second");
    expect(run(at, "main").status).toBe(0);
    at.git("rm", "--quiet", "-r", "--cached", "--ignore-unmatch", "reports");
    at.write("b.md", WRONG);
    at.git("add", "b.md");
    at.git("commit", "--quiet", "--message", "third");
    const ran = run(at, "main");
    expect(ran.status).toBe(1);
    expect(ran.stdout).toContain("b.md:11:17");
    expect(ran.stdout).not.toContain("a.md");
    expect(run(at, "nowhere").status).toBe(2);
  });

  it("is a workflow that calls what is there", () => {
    const flow: { jobs: { notes: { steps: { run?: string }[] } } } = parse(
      readFileSync(join(recipes, "ci.yml"), "utf8"),
    );
    const scripts = flow.jobs.notes.steps.flatMap(({ run: script }) => script ?? []);
    for (const [, path = ""] of scripts.join("\n").matchAll(/sh (recipes\/\S+)/g)) {
      expect(existsSync(join(recipes, "..", path))).toBe(true);
    }
    expect(scripts.join("\n")).not.toContain("${{");
    for (const script of scripts) execFileSync("sh", ["-n"], { input: script });
  });
});

describe("git diff with the text conversion", () => {
  it("shows what follows from a changed reading, and prose as it is", () => {
    const note = CLEAR.replace(
      "draw: 4.2 A",
      "draw: 4.2 A\nhours: 2 h\npower [W] = supply voltage * draw\n```\n\n```limits\npower <= 53 W",
    );
    const at = new GitFolder({
      "a.md": note,
      ".gitattributes": readFileSync(join(recipes, "gitattributes")),
    });
    at.git("config", "diff.job-note.textconv", `${WITNESS_MARK} textconv`);
    at.commitAll("first");
    at.write("a.md", note.replace("4.2 A", "4.4 A").replace("# Bench supply", "# Bench"));
    const lines = at.git("diff", "--unified=0").split("\n");
    expect(lines).toContain("-# Bench supply");
    expect(lines).toContain("+draw: 4.4 A");
    expect(lines).toContainEqual(
      expect.stringMatching(/^\+power \[W\] = supply voltage \* draw {3}→ 55\.4 W ± /),
    );
    expect(lines).toContain("-power <= 53 W   → not proven");
    expect(lines).toContain("+power <= 53 W   → exceeded");
    expect(at.git("log", "-p", "--oneline")).toContain("→ 52.9 W");
  });
});

describe("git's own three-way merge", () => {
  const note = (draw: string, prose: string, voltage: string): string =>
    CLEAR.replace("# Bench supply", `# Bench supply\n\n${prose}`)
      .replace(
        "supply voltage: 12.6 V\ndraw: 4.2 A",
        `draw: ${draw}\nmedium: smoke\nsupply voltage: ${voltage}`,
      )
      .concat("\n```limits\ndraw * supply voltage <= 60 W   source: label of the supply\n```\n");

  it("brings changes of different lines together, and the check then looks at the whole", () => {
    const at = new GitFolder({ "a.md": note("4.2 A", "First look.", "12.6 V") });
    const check = () =>
      spawnSync(process.execPath, [join(dist, "cli.js"), "check"], { cwd: at.folder, encoding: "utf8" });
    at.commitAll("first");
    at.git("checkout", "--quiet", "-b", "theirs");
    at.write("a.md", note("4.6 A", "First look.", "12.6 V"));
    expect(check().status).toBe(0);
    at.commitAll("theirs");
    at.git("checkout", "--quiet", "main");
    at.write("a.md", note("4.2 A", "First look, and a second.", "13.8 V"));
    expect(check().status).toBe(0);
    at.commitAll("ours");
    at.git("merge", "--quiet", "theirs");
    // Each half keeps the limit (4.6 A · 12.6 V = 58.0 W, 4.2 A · 13.8 V = 58.0 W); together they are 63.5 W.
    expect(readFileSync(join(at.folder, "a.md"), "utf8")).toBe(
      note("4.6 A", "First look, and a second.", "13.8 V"),
    );
    const checked = check();
    expect(checked.status).toBe(1);
    expect(checked.stdout).toContain("limit/exceeded");
  });

  it("shows one reading in conflict as one line of each side with what it was before", () => {
    const at = new GitFolder({ "a.md": note("4.2 A", "First look.", "12.6 V") });
    at.commitAll("first");
    at.git("config", "merge.conflictStyle", "diff3");
    at.git("checkout", "--quiet", "-b", "theirs");
    at.write("a.md", note("4.4 A", "First look.", "12.6 V"));
    at.commitAll("theirs");
    at.git("checkout", "--quiet", "main");
    at.write("a.md", note("4.5 A", "First look.", "12.6 V"));
    at.commitAll("ours");
    expect(() => at.git("merge", "--quiet", "theirs")).toThrow();
    expect(readFileSync(join(at.folder, "a.md"), "utf8")).toMatch(
      /<<<<<<< \S+\ndraw: 4\.5 A\n\|{7} \w+\ndraw: 4\.2 A\n=======\ndraw: 4\.4 A\n>>>>>>> theirs\nmedium/,
    );
  });
});
