import { type ExecFileSyncOptionsWithStringEncoding, execFileSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type * as lsp from "vscode-languageserver/node";
import type { JsonFinding, JsonResult } from "../../server/src/report/json.ts";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor, messageOf } from "./editor.ts";

const root = join(import.meta.dirname, "../..");
const samples = join(root, "samples");
const notes = readdirSync(samples).filter((file) => file.endsWith(".md") && file !== "README.md");

/** The form in which the command line writes a finding. */
function asJson(diagnostic: lsp.Diagnostic, fixable: boolean): JsonFinding {
  const { range } = diagnostic;
  const severities: readonly JsonFinding["severity"][] = ["error", "warning", "info"];
  const severity = severities[Number(diagnostic.severity) - 1];
  if (!severity) throw new Error("a diagnostic without severity");
  return {
    rule: String(diagnostic.code),
    severity,
    message: messageOf(diagnostic).split("\n", 1)[0] ?? "",
    line: range.start.line + 1,
    column: range.start.character + 1,
    endLine: range.end.line + 1,
    endColumn: range.end.character + 1,
    fixable,
  };
}

describe("the command line and the editor", () => {
  let bundles: string;
  let editor: Editor;
  let result: JsonResult;

  beforeAll(async () => {
    bundles = await buildBundles("cli", "worker");
    editor = await Editor.start({ folder: bundles });
    result = JSON.parse(runCheck(join(bundles, "cli.js")));
  });
  afterAll(async () => {
    await editor.stop();
    removeBundles(bundles);
  });

  it("know the same notes", () => {
    expect(result.notes.map(({ path }) => path).sort()).toEqual(
      expect.arrayContaining(notes.map((n) => `samples/${n}`)),
    );
  });

  for (const note of notes) {
    it(`find the same in ${note}`, async () => {
      const uri = pathToFileURL(join(samples, note)).href;
      const diagnostics = await editor.open(uri, readFileSync(join(samples, note), "utf8"));
      const found = await Promise.all(
        diagnostics.map(async (diagnostic) => {
          const actions = await editor.actions(uri, diagnostic.range, ["quickfix"]);
          const own = actions.filter(
            (a) => a.kind === "quickfix" && JSON.stringify(a.diagnostics?.[0]) === JSON.stringify(diagnostic),
          );
          return asJson(diagnostic, own.length > 0);
        }),
      );
      expect(found).toEqual(result.notes.find(({ path }) => path === `samples/${note}`)?.findings);
      editor.close(uri);
    });
  }
});

function runCheck(cli: string): string {
  const options: ExecFileSyncOptionsWithStringEncoding = { cwd: root, encoding: "utf8", maxBuffer: 1e8 };
  return execFileSync(
    process.execPath,
    [cli, "check", "samples", "--format", "json", "--exit-zero"],
    options,
  );
}
