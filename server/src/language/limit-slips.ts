import { syntaxProblem } from "./problems.ts";
import type { LineProblem } from "./syntax.ts";

/** `test pressure max 1 psi`: words where the format takes a sign. */
const WORDS =
  /^(.*?[\p{L}\d])[ \t\u00a0]+((?:is[ \t\u00a0]+)?(?:max|maximum|at most|not over|not above|below|under|less than|up to|min|minimum|at least|not under|not below|above|over|more than))\.?[ \t\u00a0]+(?=[-+−]?\.?\d)/iu;
const LEAST = /^(?:is[ \t\u00a0]+)?(?:min|minimum|at least|not under|not below|above|over|more than)$/i;
const STRICT = /(?:^|[ \t\u00a0])(?:below|under|less than|above|over|more than)$/i;
const COLON = /^(.*?[\p{L}\d])[ \t\u00a0]*:[ \t\u00a0]*(?=[-+−]?\.?\d)/u;
const TURNED = /=[ \t\u00a0]*([<>])/;
const COMPARES = /[<>]|==|!=|\bis[ \t\u00a0]+"/i;

/** A limit in other signs than the format's, with the sign that is meant; undefined where it has one of its own. */
export function limitSlip(text: string, start: number, to: number): LineProblem | undefined {
  const line = text.slice(start, to);
  const turned = TURNED.exec(line);
  if (turned) {
    const span = { from: start + turned.index, to: start + turned.index + turned[0].length };
    const sign = `${turned[1] ?? ""}=`;
    return {
      ...syntaxProblem(span, `\`${turned[0]}\` is written the other way round.`, `Write \`${sign}\`.`),
      fixes: [{ title: `Write ${sign}`, span, text: sign }],
    };
  }
  // Nearly every limit has its sign, and ends here.
  if (COMPARES.test(line)) return undefined;
  const words = WORDS.exec(line);
  if (words) {
    const [, name = "", word = ""] = words;
    const isLeast = LEAST.test(word);
    const isStrict = STRICT.test(word) && !/not/i.test(word);
    const sign = `${isLeast ? ">" : "<"}${isStrict ? "" : "="}`;
    const span = { from: start + name.length, to: start + words[0].length };
    return {
      ...syntaxProblem(
        { from: start, to },
        "This line compares nothing.",
        `Write \`${sign}\` for \`${word}\`, as in \`test pressure ${sign} 1 psi\`.`,
      ),
      fixes: [{ title: `Write ${sign}`, span, text: ` ${sign} ` }],
    };
  }
  const colon = COLON.exec(line);
  if (!colon) return undefined;
  const span = { from: start + (colon[1] ?? "").length, to: start + colon[0].length };
  return {
    ...syntaxProblem(
      { from: start, to },
      "A limit is a comparison, and a colon stands here.",
      "Write `<=` for what it may be at most, or `>=` for what it must be at least.",
    ),
    fixes: ["<=", ">="].map((sign) => ({ title: `Write ${sign}`, span, text: ` ${sign} ` })),
  };
}
