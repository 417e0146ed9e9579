import type { Span, StepLine, StepsLine } from "../language/syntax.ts";
import { linesThat } from "../note/block-content.ts";

/**
 * Pressures of a remark that no quantity covers. Left unread they would be held to no limit, so everything
 * that a person would take for a pressure is looked for, in the spellings heard in workshops (no source).
 */

const PLAIN_UNIT = [
  String.raw`p\.?\s?s\.?\s?i(?:[ag]|\.[ag]?\.?)?`,
  "[mhk]?pa",
  "(?:m|milli)?bars?|mb",
  String.raw`(?:lbs?|pounds?)(?:\s*(?:/|per)\s*(?:sq(?:uare)?\.?\s*)?in(?:ch|\.)?)?`,
].join("|");
const COLUMN = [
  String.raw`(?:in(?:ch(?:es)?)?\.?|["″”]|ft\.?|feet|[cm]?m|met(?:er|re)s?)\s*(?:of\s+)?(?:water|h\s?[2₂][o0]|w\.?\s?[cgs]\.?)`,
  String.raw`(?:in(?:ch(?:es)?)?\.?|["″”]|mm)\s*(?:of\s+)?(?:hg|mercury)`,
].join("|");

const DIGITS = String.raw`(?:[\d０-９](?:[.,'’ \u00a0\u2009\u202f]*[\d０-９])*[½¼¾⅓⅔⅛⅜⅝⅞]?|[½¼¾⅓⅔⅛⅜⅝⅞])`;
const WORDS = "one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty|thirty|half";
const WRITTEN = new RegExp(
  [
    String.raw`${DIGITS}\+?[\s_-]*(?:${PLAIN_UNIT}|${COLUMN})(?![\p{L}\p{N}])`,
    String.raw`(?<!\p{L})(?:${WORDS})(?:\s+an?)?[\s-]+(?:${PLAIN_UNIT})(?![\p{L}\p{N}])`,
    String.raw`(?<![\p{L}\p{N}.,½¼¾])p\.?s\.?i\.?\s*[:=]?\s*\d(?:[\d.,]*\d)?`,
  ].join("|"),
  "giu",
);

/** Digits in threes before the digits that were read: `20 000 Pa` reads as 0 Pa. */
const GROUPED = /(?<![\p{L}\p{N}.,:])\d{1,3}(?:[ '’\u00a0\u2009\u202f]\d{3})*[ '’\u00a0\u2009\u202f]$/u;

/** The steps of a block with anything in their remark that looks like a pressure, by the number of the line. */
export const linesNamingPressure = (trees: readonly StepsLine[]): readonly number[] =>
  linesThat(
    trees,
    (line) => line.kind === "step" && line.remark !== undefined && line.remark.text.search(WRITTEN) >= 0,
  );

/**
 * What looks like a pressure in a step's remark and was not read as one.
 * @param isPressure Whether a unit's text is a known unit of pressure.
 */
export function* unreadPressures(
  { remark, quantities, commas = [] }: StepLine,
  isPressure: (unit: string) => boolean,
): Iterable<Span> {
  if (!remark) return;
  const { from: start } = remark.span;
  const told = [
    ...commas.map(({ unit }) => unit.span),
    ...quantities.filter(({ unit }) => isPressure(unit.text)).map(({ unit }) => unit.span),
  ];
  for (const { number, unit, span } of quantities) {
    if (
      !isPressure(unit.text) ||
      !/^\d{3}$/.test(remark.text.slice(number.span.from - start, number.span.to - start))
    )
      continue;
    const before = GROUPED.exec(remark.text.slice(0, number.span.from - start));
    if (before) yield { from: start + before.index, to: span.to };
  }
  for (const match of remark.text.matchAll(WRITTEN)) {
    const from = start + match.index;
    const span = { from, to: from + match[0].length };
    if (!told.some((one) => one.from < span.to && one.to > span.from)) yield span;
  }
}
