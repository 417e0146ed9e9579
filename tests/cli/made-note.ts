import type { Finding, NamedValue } from "../../server/src/analysis/analysis.ts";
import type { Range } from "../../server/src/note/note.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import type { Checked } from "../../server/src/report/checked.ts";

/** A read note with findings made up for a test of how they are shown. */
export function madeNote(
  text: string,
  findings: readonly Finding[],
  values: readonly NamedValue[] = [],
): Checked {
  const note = readNote(text, readYaml);
  const analysis = {
    note,
    values,
    valuesIn: () => values,
    valueOf: (key: string) => values.find((value) => value.key === key),
    findings,
    accepted: [],
    limits: [],
    logs: new Map(),
    nameUses: () => [],
    working: () => ({
      formula: "",
      numbers: "",
      result: "",
      contributions: [],
      assumptions: [],
      equations: [],
      sources: [],
      cautions: [],
    }),
    evaluate: () => undefined,
    recordResults: () => [],
  };
  return { path: "lamps/rear.md", text, lines: note.lines, findings, analysis };
}

/** Where these words stand in the text. */
export function at(text: string, words: string): Range {
  const from = text.indexOf(words);
  if (from < 0) throw new Error(`The test's note does not hold “${words}”.`);
  return { from, to: from + words.length };
}

export function finding(text: string, words: string, more: Partial<Finding> = {}): Finding {
  return {
    rule: "unit/decimal-comma",
    severity: "error",
    message: "0,9 has a decimal comma.",
    why: "A comma is read in two ways, a thousandfold apart.",
    advice: "Write 0.9.",
    range: at(text, words),
    related: [],
    fixes: [],
    ...more,
  };
}
