import { skipBlanks } from "../../language/scanner.ts";
import { completeFormula, isAfterValue } from "./formulas.ts";
import { type Completion, type LinePlace, typedFrom } from "./place.ts";

export function completeLimit(place: LinePlace): Completion[] {
  const { before } = place;
  if (/(?:^|[ \t])source[ \t]*:/i.test(before)) return [];
  const start = skipBlanks(before, 0);
  if (/[<>=≤≥]/.test(before) && /[ \t]$/.test(before) && isAfterValue(place, start)) {
    const replaces = typedFrom(place, before.length);
    return [
      { label: "source:", kind: "word", text: "source: ", replaces, detail: "where the limit comes from" },
      {
        label: "(acceptance)",
        kind: "word",
        text: "(acceptance)",
        replaces,
        detail: "the part's own acceptance figure",
      },
    ];
  }
  return completeFormula(place, start, undefined);
}
