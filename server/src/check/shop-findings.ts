import type { Finding } from "../analysis/analysis.ts";
import type { Shop } from "../shop/shop.ts";

/** What is wrong with the shop file, in the form in which a note's findings are shown. */
export function shopFindings(shop: Shop): Finding[] {
  return shop.problems.map(({ range, message, advice, rule, severity, why }) => ({
    // The shop file is checked like the front matter of a note, of which it has the form.
    rule: rule ?? "note/front-matter",
    severity: severity ?? "error",
    message,
    why: why ?? "What cannot be read here is left out, so the notes of this shop are checked without it.",
    advice,
    range,
    related: [],
    fixes: [],
  }));
}
