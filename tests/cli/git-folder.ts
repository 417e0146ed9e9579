import { execFileSync } from "node:child_process";
import { rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { folderWith } from "./run-in.ts";

/** A git repository of the test's own, untouched by the settings of whoever runs it. */
export class GitFolder {
  readonly folder: string;

  constructor(files: Readonly<Record<string, string | Buffer>> = {}) {
    this.folder = folderWith(files);
    rmSync(join(this.folder, ".git"), { recursive: true });
    this.git("init", "--quiet", "--initial-branch=main");
  }

  git(...args: readonly string[]): string {
    const { GIT_DIR: _dir, GIT_INDEX_FILE: _index, ...environment } = process.env;
    return execFileSync("git", args, {
      cwd: this.folder,
      encoding: "utf8",
      stdio: "pipe",
      env: {
        ...environment,
        GIT_CONFIG_GLOBAL: "/dev/null",
        GIT_CONFIG_NOSYSTEM: "1",
        GIT_AUTHOR_NAME: "tech 3",
        GIT_AUTHOR_EMAIL: "tech3@workshop.invalid",
        GIT_COMMITTER_NAME: "tech 3",
        GIT_COMMITTER_EMAIL: "tech3@workshop.invalid",
      },
    });
  }

  write(path: string, text: string): void {
    writeFileSync(join(this.folder, path), text);
  }

  commitAll(message: string): string {
    this.git("add", "--all");
    this.git("commit", "--quiet", "--message", message);
    return this.git("rev-parse", "HEAD").trim();
  }
}
