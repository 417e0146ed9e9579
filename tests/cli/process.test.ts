import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { makeWithLate } from "../lsp/build-server.ts";
import { CLEAR, folderWith, WRONG } from "./run-in.ts";

// What only a process of its own can show. The bundle is built here, so that no older one is tested.
const dist = folderWith({
  "server.js": "console.log('server', process.argv.slice(2).join(' '));\n",
});
const cli = join(dist, "cli.js");

beforeAll(async () => {
  await makeWithLate(dist, "cli");
}, 60_000);

function start(folder: string, args: readonly string[], environment: Record<string, string> = {}) {
  const { NO_COLOR: _no, FORCE_COLOR: _force, ...rest } = process.env;
  return spawnSync(process.execPath, [cli, ...args], {
    cwd: folder,
    encoding: "utf8",
    env: { ...rest, ...environment },
  });
}

const ESCAPE = String.fromCharCode(27);

describe("the command as a process", () => {
  const folder = folderWith({ "clear.md": CLEAR, "wrong.md": WRONG });

  it("gives its exit status to the shell", () => {
    expect(start(folder, ["check", "clear.md"]).status).toBe(0);
    expect(start(folder, ["check"]).status).toBe(1);
    expect(start(folder, ["check", "nowhere.md"])).toMatchObject({
      status: 2,
      stdout: "No job note was found.\n",
      stderr: "nowhere.md is not there.\n",
    });
  });

  it("writes no emphasis into a pipe, unless asked to", () => {
    expect(start(folder, ["check"]).stdout).not.toContain(ESCAPE);
    expect(start(folder, ["check"], { CI: "true" }).stdout).not.toContain(ESCAPE);
    expect(start(folder, ["check"], { FORCE_COLOR: "1" }).stdout).toContain(ESCAPE);
    expect(start(folder, ["check"], { FORCE_COLOR: "1", NO_COLOR: "1" }).stdout).not.toContain(ESCAPE);
  });

  it("reads YAML beyond the common form through the bundle beside it", () => {
    const note = CLEAR.replace("subject: bench supply", "subject: >-\n  bench\n  supply");
    expect(start(folderWith({ "a.md": note }), ["check"])).toMatchObject({ status: 0, stderr: "" });
  });

  it("ends quietly when nobody reads its output any more", () => {
    const many = folderWith(
      Object.fromEntries(Array.from({ length: 400 }, (_, i) => [`${i}.md`, `${WRONG}\n${i}\n`])),
    );
    const shell = spawnSync(
      "sh",
      ["-c", '"$0" "$1" check --format json | head -c 10', process.execPath, cli],
      { cwd: many, encoding: "utf8" },
    );
    expect(shell.stdout).toBe('{"version"');
    expect(shell.stderr).toBe("");
  });

  it("hands over to the language server beside it, over standard input and output by default", () => {
    expect(start(folder, ["lsp"]).stdout).toBe("server lsp --stdio\n");
    expect(start(folder, ["lsp", "--stdio"]).stdout).toBe("server lsp --stdio\n");
    expect(start(folder, ["--stdio"]).stdout).toBe("server --stdio\n");
  });

  it("says a fault of its own in a sentence, without a stack trace", () => {
    writeFileSync(join(dist, "server.js"), "throw new Error('boom');\n");
    const ran = start(folder, ["lsp"]);
    expect(ran).toMatchObject({ status: 2, stderr: "The language server could not be started: boom.\n" });
  });
});
