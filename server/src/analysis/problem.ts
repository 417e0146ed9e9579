import type { Span } from "../language/syntax.ts";
import type { Dimension } from "../units/dimension.ts";
import type { Scale, UnitReading } from "../units/unit.ts";

/**
 * What the evaluator found wrong, as data. The rule of the same id turns it into words and mends. Spans are
 * relative to the line.
 */
export type Problem = { readonly span: Span } & (
  | {
      readonly rule: "unit/unknown";
      readonly spelling: string;
      readonly reading: UnitReading & { ok: false };
    }
  | {
      readonly rule: "unit/mismatch";
      readonly case: "sum" | "comparison";
      readonly operator: string;
      readonly left: Operand;
      readonly right: Operand;
    }
  | {
      readonly rule: "unit/mismatch";
      readonly case: "argument";
      readonly function: string;
      readonly parameter: string;
      readonly got: Operand;
      readonly needs: Operand;
    }
  | {
      readonly rule: "unit/mismatch";
      readonly case: "shown unit" | "tolerance";
      readonly got: Operand;
      readonly asked: Operand;
    }
  | {
      readonly rule: "unit/mismatch";
      readonly case: "not a number";
      readonly got: string;
      readonly operator: string;
    }
  | { readonly rule: "unit/mismatch"; readonly case: "power"; readonly got: Operand }
  | {
      readonly rule: "unit/mismatch";
      readonly case: "no unit";
      readonly got: Operand;
      readonly needs: Operand;
    }
  | {
      readonly rule: "unit/scale-point";
      readonly case: ScalePointCase;
      readonly left: Operand;
      readonly right: Operand;
    }
  | {
      readonly rule: "unit/scale-point";
      readonly case: "argument";
      readonly function: string;
      readonly parameter: string;
      readonly got: Operand;
      readonly needs: Scale;
    }
  | {
      readonly rule: "unit/scale-point";
      readonly case: "bare absolute";
      readonly name: string;
      readonly unit: Span;
      readonly spelling: string;
    }
  | { readonly rule: "unit/scale-point"; readonly case: "relative tolerance"; readonly spelling: string }
  | {
      readonly rule: "reading/undefined";
      readonly case: "name";
      readonly name: string;
      readonly nearest: readonly string[];
    }
  | {
      readonly rule: "reading/undefined";
      /** `shop formula`: the shop file has one of that name, with a mistake. */
      readonly case: "function" | "shop formula";
      readonly name: string;
      readonly nearest: readonly string[];
    }
  | { readonly rule: "note/syntax"; readonly message: string; readonly advice: string }
  | {
      readonly rule: "reading/out-of-validity";
      readonly function: string;
      readonly says: readonly string[];
      readonly value: boolean;
    }
);

export type ScalePointCase =
  | "point plus point"
  | "difference minus point"
  | "point times"
  | "point power"
  | "point negated"
  | "point against difference"
  | "absolute plus absolute"
  | "gauge minus absolute"
  | "gauge against absolute";

/** One side of an operation as it is shown: where it stands, and what it is. */
export interface Operand {
  readonly span: Span;
  readonly dimension: Dimension;
  readonly scale: Scale;
  /** The unit it is written or shown in, for messages. */
  readonly unit: string;
}
