import type { Shown } from "../../server/src/analysis/analysis.ts";
import { type Around, analyzeText } from "./analyze-text.ts";

/** Each value of a note as a person reads it, by name; undefined where it has none. */
export const shownOf = (text: string, around: Around = {}): Readonly<Record<string, string | undefined>> =>
  Object.fromEntries(analyzeText(text, around).values.map((value) => [value.name, value.shown?.text]));

/** Rules of a note's findings, in the order of the note. */
export const rulesOf = (text: string, around: Around = {}): readonly string[] =>
  analyzeText(text, around).findings.map((finding) => finding.rule);

/** A quantity of a note. Throws where the name has none. */
export function quantityOf(
  text: string,
  name: string,
  around: Around = {},
): Extract<Shown, { kind: "quantity" }> {
  const analysis = analyzeText(text, around);
  const shown = analysis.values.find((value) => value.name === name)?.shown;
  if (shown?.kind !== "quantity") {
    const said = analysis.findings.map((finding) => `${finding.rule}: ${finding.message}`);
    throw new Error(`${name} has no quantity. ${said.join(" ")}`);
  }
  return shown;
}
