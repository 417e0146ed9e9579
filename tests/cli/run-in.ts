import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll } from "vitest";
import * as base from "../../server/src/cli/base/commands.ts";
import { check } from "../../server/src/cli/check.ts";
import { newNote } from "../../server/src/cli/new.ts";
import { next } from "../../server/src/cli/next.ts";
import { NoteReader } from "../../server/src/cli/note-reader.ts";
import type { Outside } from "../../server/src/cli/outside.ts";
import { run } from "../../server/src/cli/program.ts";
import { review } from "../../server/src/cli/review.ts";
import { ruleTexts } from "../../server/src/cli/rule-texts.ts";
import { sheet } from "../../server/src/cli/sheet.ts";
import { site } from "../../server/src/cli/site.ts";
import { textconv } from "../../server/src/cli/textconv.ts";
import { why } from "../../server/src/cli/why.ts";
import { readLog } from "../../server/src/host/read-log.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import * as reporting from "../../server/src/reporting.ts";

const made: string[] = [];
afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true, force: true });
});

/** A new folder with these files; gone after the tests. It counts as a repository, so no shop file outside is found. */
export function folderWith(files: Readonly<Record<string, string | Buffer>>): string {
  const folder = mkdtempSync(join(tmpdir(), "witness-mark-test-"));
  made.push(folder);
  mkdirSync(join(folder, ".git"));
  for (const [path, content] of Object.entries(files)) {
    const file = join(folder, path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, content);
  }
  return folder;
}

export interface Ran {
  readonly status: number | undefined;
  readonly out: string;
  readonly err: string;
}

/** Runs the command line in a folder, as a call in this process. */
export async function runIn(
  folder: string,
  args: readonly string[],
  more: Partial<Outside> = {},
): Promise<Ran> {
  let out = "";
  let err = "";
  const status = await run(args, {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
    folder,
    environment: {},
    terminal: undefined,
    libraries: {
      yaml: readYaml,
      procedures: () => builtInProcedures,
      logs: readLog,
      reporting: () => reporting,
    },
    checker: () => ({ check, why, next, newNote, review, textconv, NoteReader, ruleTexts }),
    sheets: () => ({ sheet, site }),
    searchScript: () => "",
    base: () => base,
    today: () => "2031-03-04",
    startServer: () => {
      out += "server started";
    },
    ...more,
  });
  return { status, out, err };
}

/** A note with nothing wrong in it. */
export const CLEAR = `---
job: 2031-0001
procedure: general
subject: bench supply
status: open
---

# Bench supply

\`\`\`readings
supply voltage: 12.6 V
draw: 4.2 A
\`\`\`
`;

/** The same with a decimal comma, which is an error. */
export const WRONG = CLEAR.replace("12.6 V", "12,6 V");
