import type { Finding } from "../../analysis/analysis.ts";
import type { Checked } from "../checked.ts";

/** How the findings of a note compare with those of an earlier state of it. */
export interface Since {
  isNew(finding: Finding): boolean;
  /** What was found then and is found no more, in the text as it was. */
  readonly mended: readonly { readonly finding: Finding; readonly in: Checked }[];
}
