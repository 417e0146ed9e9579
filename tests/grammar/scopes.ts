import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { type IGrammar, INITIAL, parseRawGrammar, Registry } from "vscode-textmate";
import { injectionGrammar } from "../../grammar/highlighting.ts";

const require = createRequire(import.meta.url);
// Both packages are CommonJS whose named exports Node's own loader cannot see.
const oniguruma: typeof import("vscode-oniguruma") = require("vscode-oniguruma");

const MARKDOWN = "text.html.markdown";

/** VS Code's own markdown grammar with ours injected, as the editor puts them together. */
export async function markdownGrammar(): Promise<IGrammar> {
  const wasm = await readFile(require.resolve("vscode-oniguruma/release/onig.wasm"));
  await oniguruma.loadWASM(wasm);
  const registry = new Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
      createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async (scopeName) => {
      if (scopeName === injectionGrammar.scopeName) {
        return parseRawGrammar(JSON.stringify(injectionGrammar), "injection.json");
      }
      if (scopeName !== MARKDOWN) return null;
      const path = require.resolve("tm-grammars/grammars/markdown.json");
      return parseRawGrammar(await readFile(path, "utf8"), "markdown.json");
    },
    getInjections: (scopeName) => (scopeName === MARKDOWN ? [injectionGrammar.scopeName] : []),
  });
  const grammar = await registry.loadGrammar(MARKDOWN);
  if (!grammar) throw new Error("the markdown grammar could not be loaded");
  return grammar;
}

export interface ScopedPiece {
  readonly text: string;
  readonly from: number;
  readonly to: number;
  readonly scopes: readonly string[];
}

export function scopesByLine(grammar: IGrammar, text: string): { line: string; pieces: ScopedPiece[] }[] {
  let stack = INITIAL;
  return text.split("\n").map((line) => {
    const result = grammar.tokenizeLine(line, stack);
    stack = result.ruleStack;
    const pieces = result.tokens.map(({ startIndex, endIndex, scopes }) => ({
      text: line.slice(startIndex, endIndex),
      from: startIndex,
      to: endIndex,
      scopes,
    }));
    return { line, pieces };
  });
}

/** A picture of the note: under each line, what of it is coloured as what. Prose is left as it stands. */
export function pictureOf(grammar: IGrammar, text: string): string {
  const rows: string[] = [];
  for (const { line, pieces } of scopesByLine(grammar, text)) {
    rows.push(`| ${line}`);
    for (const { from, to, text: piece, scopes } of pieces) {
      const ours = scopes.filter(
        (scope) => scope.endsWith(".witness-mark") && !scope.startsWith("meta.embedded"),
      );
      if (ours.length === 0 || piece.trim() === "") continue;
      const names = ours.map((scope) => scope.replace(/\.witness-mark$/, "")).join(" > ");
      rows.push(`  ${" ".repeat(from)}${"^".repeat(Math.min(to, line.length) - from)} ${names}`);
    }
  }
  return `${rows.join("\n")}\n`;
}
