import type { Expression } from "../language/syntax.ts";
import type { Note, Range, Severity } from "../note/note.ts";
import type { LogReading } from "../note/series-log.ts";
import type { LimitOutcome } from "./limits.ts";
import type { Result } from "./quantity.ts";

export type { Severity };

/** One thing to tell the technician. Everything an adaptor shows is made from these. */
export interface Finding {
  readonly rule: string;
  readonly severity: Severity;
  /** What is wrong, in one sentence. */
  readonly message: string;
  /** Why it matters. */
  readonly why: string;
  /** What to do. */
  readonly advice: string;
  readonly range: Range;
  readonly related: readonly { readonly range: Range; readonly message: string }[];
  readonly fixes: readonly Fix[];
}

export interface Fix {
  readonly title: string;
  readonly edits: readonly TextEdit[];
  /**
   * `safe` mends may be applied in bulk; `choice` offers one of several meanings, or changes what was
   * written by hand, and is only ever applied one by one.
   */
  readonly kind: "safe" | "choice";
}

export interface TextEdit {
  readonly range: Range;
  readonly text: string;
}

/** A reading with its value, as every adaptor shows it. */
export interface NamedValue {
  readonly name: string;
  /** Lower-case full name, with the block's label before it. */
  readonly key: string;
  readonly kind: "measured" | "derived" | "text";
  /** Where the name stands. */
  readonly nameRange: Range;
  /** The whole line's content. */
  readonly lineRange: Range;
  /** Line in the note, from 0. */
  readonly line: number;
  /** Where an inlay hint goes: right after the value or the formula, before a recorded result. */
  readonly hintAt: number;
  /** Undefined when the value could not be worked out (a finding says why). */
  readonly shown: Shown | undefined;
}

/** A value ready to be shown. */
export type Shown =
  | {
      readonly kind: "quantity";
      /** In `unit`, not rounded. */
      readonly value: number;
      readonly unit: string;
      /** Expanded, k = 2, in `unit`, not rounded; null where the value has none. */
      readonly uncertainty: number | null;
      /** Rounded for reading: `0.39 mm ± 0.04 mm`. */
      readonly text: string;
    }
  | { readonly kind: "text" | "truth"; readonly text: string };

/** How a value came about; shown in hovers and by the command line. */
export interface Working {
  /** The formula or reading as written. */
  readonly formula: string;
  /** The formula with the numbers put in. */
  readonly numbers: string;
  readonly result: string;
  /** Contributions to the uncertainty, greatest first: what it is and its share of the variance. */
  readonly contributions: readonly { readonly says: string; readonly share: number }[];
  readonly assumptions: readonly string[];
  readonly equations: readonly string[];
  readonly sources: readonly string[];
  readonly cautions: readonly string[];
}

/** A name's definition or use, for going to it, finding all of them and renaming. */
export interface NameUse {
  readonly key: string;
  readonly range: Range;
  readonly defines: boolean;
}

export interface Analysis {
  readonly note: Note;
  /** In the order of the note. */
  readonly values: readonly NamedValue[];
  /** Those of the blocks that a range touches; an editor asks for what its window shows. */
  valuesIn(range: Range): readonly NamedValue[];
  /** One by its full name in lower case. */
  valueOf(key: string): NamedValue | undefined;
  /** In the order of the note, accepted ones left out. */
  readonly findings: readonly Finding[];
  /** Findings that the note accepts, each with the reason given. */
  readonly accepted: readonly { readonly finding: Finding; readonly reason: string }[];
  /** What the logs held that series take their rows from, by the key of the request. */
  readonly logs: ReadonlyMap<string, LogReading>;
  /** How each limit of the note came out, in the order of the note. */
  readonly limits: readonly LimitOutcome[];
  /** Names in the note, or in the blocks that a range touches, in order. Made when asked for. */
  nameUses(within?: Range): readonly NameUse[];
  /** The working behind a value. Made when asked for. */
  working(value: NamedValue): Working;
  /** Works out one more formula against the note's values, as if it stood in a block with that label. */
  evaluate(formula: Expression, label?: string): Result;
  /** Edits that record (or refresh) every derived result. Empty when all are up to date. */
  recordResults(): readonly TextEdit[];
}
