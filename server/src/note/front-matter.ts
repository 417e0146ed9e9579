import type { Range } from "./note.ts";
import type { YamlNode } from "./yaml-tree.ts";

/** What the front matter says, as far as it could be read. Values keep the digits as written. */
export interface FrontMatterFields {
  readonly job?: string;
  readonly title?: string;
  readonly procedure?: string;
  readonly subject?: string;
  readonly vehicle?: {
    readonly description?: string;
    readonly make?: string;
    readonly model?: string;
    readonly year?: number;
    readonly engine?: string;
    readonly odometer?: string;
    /** Hour meter of a machine that counts hours. */
    readonly hours?: string;
    readonly vin?: string;
    readonly serial?: string;
    readonly plate?: string;
    readonly "fleet number"?: string;
  };
  readonly customer?: string;
  readonly complaint?: string;
  readonly cause?: string;
  readonly correction?: string;
  readonly parts?: string | readonly string[];
  readonly by?: string;
  readonly reviewedBy?: string;
  /** `YYYY-MM-DD`. */
  readonly date?: string;
  readonly status?: "open" | "done";
  readonly outcome?: JobOutcome;
  readonly comebackOf?: string;
  /** Service information that the job went by. */
  readonly source?: string | readonly string[];
  readonly photos?: string | readonly string[];
  readonly tags?: string | readonly string[];
}

export type JobOutcome = "repaired" | "replaced" | "no fault found" | "declined" | "diagnosis only";

/** A key that is missing, unknown or of the wrong form, or YAML that cannot be read. */
export interface FieldProblem {
  readonly range: Range;
  readonly message: string;
  readonly advice: string;
  readonly fixes: readonly { readonly title: string; readonly range: Range; readonly text: string }[];
}

export interface FrontMatter {
  /** From the first `---` to the last, both included; empty at 0 where there is none. */
  readonly range: Range;
  /** Whether the note opens with front matter at all. */
  readonly present: boolean;
  readonly tree: YamlNode | undefined;
  readonly fields: FrontMatterFields;
  /** Range of a field's value by its path, such as `job` or `vehicle.vin`. */
  readonly at: ReadonlyMap<string, Range>;
  readonly problems: readonly FieldProblem[];
}
