import type { Severity } from "../../analysis/analysis.ts";
import { type Html, html } from "./html.ts";

/**
 * How severe a finding is, in words, with a mark beside it for the eye that skims. The marks come from the
 * line that is painted across a bolt and its seat: whole when nothing has moved, shifted when something has.
 * They differ by shape alone, so that they survive a black-and-white print and every theme.
 */
export type Mark = "shifted" | "parted" | "whole" | "open" | "aside";

const STROKES: Readonly<Record<Mark, string>> = {
  shifted: "M1 6H7M7 2V10M9 10H15",
  parted: "M1 6H6M10 6H15",
  whole: "M1 6H15",
  open: "M1 6H2.5M5 6H6.5M9.5 6H11M13.5 6H15",
  aside: "M1 8H15M4 4H12",
};

/** The mark is decoration: the word next to it says the same. */
export const mark = (which: Mark): Html =>
  html`<svg class="wm-mark" viewBox="0 0 16 12" width="16" height="12" aria-hidden="true" focusable="false"><path d="${STROKES[which]}" fill="none" stroke="currentColor" stroke-width="2"></path></svg>`;

export const SEVERITY: Readonly<Record<Severity, { readonly word: string; readonly mark: Mark }>> = {
  error: { word: "Error", mark: "shifted" },
  warning: { word: "Warning", mark: "parted" },
  info: { word: "For information", mark: "aside" },
};
