/**
 * What one line of a block holds, as written. Every node has a range; ranges count UTF-16 units from the
 * start of the line, so that a line's tree is the same wherever the line stands and can be reused while
 * the note around it changes.
 */

export interface Span {
  readonly from: number;
  readonly to: number;
}

/** Something on the line that cannot be read as it stands. */
export interface LineProblem {
  readonly rule: "note/syntax" | "unit/decimal-comma" | "unit/unknown" | "unit/scale-point" | "unit/mismatch";
  readonly span: Span;
  readonly message: string;
  readonly advice: string;
  readonly fixes: readonly LineFix[];
}

/** Replaces `span` by `text`. */
export interface LineFix {
  readonly title: string;
  readonly span: Span;
  readonly text: string;
}

// ---- Pieces ---------------------------------------------------------------------------------------

export interface Name {
  readonly span: Span;
  /** As written, single-spaced. */
  readonly text: string;
  /** Lower case: the form in which names are compared. */
  readonly key: string;
}

export interface NumberText {
  readonly span: Span;
  readonly value: number;
  /** The size of one step of the last digit shown: 0.01 for `0.42`, 100 for `1.2e3`. Zero for fractions. */
  readonly step: number;
}

export interface UnitText {
  readonly span: Span;
  readonly text: string;
}

/** `± 0.05 unit`, half-width of a limit of error. */
export interface Tolerance {
  readonly span: Span;
  readonly number: NumberText;
  readonly unit?: UnitText;
}

export interface Clock {
  readonly span: Span;
  /** Minutes after midnight; undefined for `--:--`, a step still to do. */
  readonly minutes: number | undefined;
}

export interface DateText {
  readonly span: Span;
  /** `YYYY-MM-DD`, a day that exists. */
  readonly iso: string;
}

/** `# text` at the end of a line; an `accept RULE: reason` in it is read by the analysis. */
export interface Comment {
  readonly span: Span;
  readonly text: string;
}

// ---- Formulas -------------------------------------------------------------------------------------

export type BinaryOperator =
  | "+"
  | "-"
  | "*"
  | "/"
  | "^"
  | "<"
  | "<="
  | ">"
  | ">="
  | "=="
  | "!="
  | "and"
  | "or";
export type Comparison = Extract<BinaryOperator, "<" | "<=" | ">" | ">=" | "==" | "!=">;

export type Expression =
  | { readonly kind: "number"; readonly span: Span; readonly number: NumberText; readonly unit?: UnitText }
  | { readonly kind: "name"; readonly span: Span; readonly name: Name }
  | { readonly kind: "text"; readonly span: Span; readonly text: string }
  | { readonly kind: "truth"; readonly span: Span; readonly value: boolean }
  | { readonly kind: "call"; readonly span: Span; readonly name: Name; readonly args: readonly Argument[] }
  | { readonly kind: "negate" | "not"; readonly span: Span; readonly operand: Expression }
  | {
      readonly kind: "binary";
      readonly span: Span;
      readonly operator: BinaryOperator;
      readonly operatorSpan: Span;
      readonly left: Expression;
      readonly right: Expression;
    }
  /** `medium is "smoke"` */
  | { readonly kind: "is"; readonly span: Span; readonly subject: Expression; readonly text: Expression }
  /** A place where something is missing; the line carries the problem. */
  | { readonly kind: "missing"; readonly span: Span };

export interface Argument {
  readonly span: Span;
  /** `drop:` of `drop: test pressure`. */
  readonly label?: Name;
  readonly value: Expression;
}

// ---- Lines of a readings block ---------------------------------------------------------------------

export type MeasuredValue =
  | {
      readonly kind: "number";
      readonly span: Span;
      readonly numbers: readonly NumberText[];
      readonly unit?: UnitText;
    }
  | { readonly kind: "text"; readonly span: Span; readonly text: string }
  | { readonly kind: "truth"; readonly span: Span; readonly value: boolean };

interface LineBase {
  readonly problems: readonly LineProblem[];
  readonly comment?: Comment;
}

export interface MeasuredLine extends LineBase {
  readonly kind: "measured";
  readonly name: Name;
  readonly displayUnit?: UnitText;
  readonly value: MeasuredValue;
  readonly tolerance?: Tolerance;
  readonly instrument?: Name;
  readonly at?: Clock;
}

export interface FormulaLine extends LineBase {
  readonly kind: "formula";
  readonly name: Name;
  readonly displayUnit?: UnitText;
  readonly formula: Expression;
  /** `≈ 171 N`: a recorded result. `span` covers number and unit, not the sign. */
  readonly recorded?: Recorded;
}

export interface Recorded {
  readonly span: Span;
  readonly number: NumberText;
  readonly unit?: UnitText;
  /** Decimals shown, for comparing. */
  readonly decimals: number;
}

/** A line that cannot be read, but still defines the name it starts with, so that dependents stay silent. */
export interface BrokenLine extends LineBase {
  readonly kind: "broken";
  readonly name?: Name;
  /** What stands behind the name, where the line got so far: it was read, or it should follow. */
  readonly sign?: ":" | "=";
}

export interface EmptyLine extends LineBase {
  readonly kind: "empty";
}

export type ReadingsLine = MeasuredLine | FormulaLine | BrokenLine | EmptyLine;

// ---- Lines of a limits block -----------------------------------------------------------------------

export interface LimitLine extends LineBase {
  readonly kind: "limit";
  readonly condition: Expression;
  readonly source?: { readonly span: Span; readonly text: string };
  /** Ends in `(acceptance)`: the part's own acceptance figure. */
  readonly acceptance: boolean;
}

export type LimitsLine = LimitLine | BrokenLine | EmptyLine;

// ---- Lines of a steps block ------------------------------------------------------------------------

export interface DateLine extends LineBase {
  readonly kind: "date";
  readonly date: DateText;
}

export interface StepLine extends LineBase {
  readonly kind: "step";
  readonly time: Clock;
  /** The words between the time and the bracket or colon. */
  readonly step: Name;
  readonly place?: Name;
  readonly remark?: { readonly span: Span; readonly text: string };
  /** The remark's first word when it is one of the outcomes. */
  readonly outcome?: { readonly span: Span; readonly word: Outcome };
  /** Numbers with units in the remark, `until` excluded. */
  readonly quantities: readonly {
    readonly span: Span;
    readonly number: NumberText;
    readonly unit: UnitText;
  }[];
  /** Numbers with a decimal comma in the remark; a problem where the word behind is a unit. */
  readonly commas?: readonly { readonly problem: LineProblem; readonly unit: UnitText }[];
  readonly until?: { readonly span: Span; readonly date?: DateText; readonly time: Clock };
}

export type Outcome = "found" | "none" | "pass" | "fail" | "droplets" | "fog";
export type StepsLine = DateLine | StepLine | BrokenLine | EmptyLine;

// ---- Lines of a series block -----------------------------------------------------------------------

export interface SeriesHeader extends LineBase {
  readonly kind: "header";
  readonly columns: readonly { readonly span: Span; readonly name: Name; readonly unit?: UnitText }[];
}

export interface SeriesRow extends LineBase {
  readonly kind: "row";
  /** One per cell; undefined where the cell holds no number. */
  readonly cells: readonly (NumberText | undefined)[];
}

/** `from: logs/decay.csv` and its options. */
export interface SeriesOption extends LineBase {
  readonly kind: "option";
  readonly key: Name;
  readonly value: { readonly span: Span; readonly text: string };
}

export type SeriesLine = SeriesHeader | SeriesRow | SeriesOption | BrokenLine | EmptyLine;

export type Line = ReadingsLine | LimitsLine | StepsLine | SeriesLine;
