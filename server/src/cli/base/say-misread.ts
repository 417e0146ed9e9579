import type { Misread } from "../../base/names.ts";
import { displayWidth, harmless } from "../../report/display-width.ts";

/** What is wrong with a condition, with a mark under the place. */
export function sayMisread(text: string, { message, advice, at }: Misread): string {
  const before = harmless(text.slice(0, at.from));
  const marked = harmless(text.slice(at.from, Math.max(at.to, at.from + 1)));
  const mark = " ".repeat(displayWidth(before)) + "^".repeat(Math.max(1, displayWidth(marked)));
  return `${harmless(message)}\n    ${harmless(text)}\n    ${mark}\n${harmless(advice)}\n`;
}
