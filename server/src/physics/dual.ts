/**
 * Forward-mode exact derivatives: a number that carries its partial derivatives with respect to the
 * arguments of the function at work. A formula written with these operations yields its value and every
 * sensitivity that the uncertainty needs (JCGM 100:2008, 5.1, clause from memory), with nothing differentiated by hand.
 */

export interface Dual {
  /** The value, in SI units. */
  readonly v: number;
  /** Partial derivatives by argument index. A missing entry is zero, so constants carry an empty list. */
  readonly d: readonly number[];
}

const NO_PARTIALS: readonly number[] = [];

export const constant = (v: number): Dual => ({ v, d: NO_PARTIALS });

/** The argument with this index: its derivative by itself is one. */
export function variable(v: number, index: number): Dual {
  const d = new Array<number>(index + 1).fill(0);
  d[index] = 1;
  return { v, d };
}

/** Chain rule for one operand: `value` at the operand, `slope` the derivative there. */
export function lift(a: Dual, value: number, slope: number): Dual {
  const { length } = a.d;
  if (length === 0) return { v: value, d: NO_PARTIALS };
  const d = new Array<number>(length);
  for (let i = 0; i < length; i++) d[i] = (a.d[i] ?? 0) * slope;
  return { v: value, d };
}

/** Chain rule for two operands, with the partial derivative by each. */
function lift2(a: Dual, b: Dual, value: number, byA: number, byB: number): Dual {
  if (b.d.length === 0) return lift(a, value, byA);
  if (a.d.length === 0) return lift(b, value, byB);
  const length = Math.max(a.d.length, b.d.length);
  const d = new Array<number>(length);
  for (let i = 0; i < length; i++) d[i] = (a.d[i] ?? 0) * byA + (b.d[i] ?? 0) * byB;
  return { v: value, d };
}

type Operand = Dual | number;
const dual = (x: Operand): Dual => (typeof x === "number" ? constant(x) : x);

export function add(x: Operand, y: Operand): Dual {
  const a = dual(x);
  const b = dual(y);
  return lift2(a, b, a.v + b.v, 1, 1);
}

export function sub(x: Operand, y: Operand): Dual {
  const a = dual(x);
  const b = dual(y);
  return lift2(a, b, a.v - b.v, 1, -1);
}

export function mul(x: Operand, y: Operand): Dual {
  const a = dual(x);
  const b = dual(y);
  return lift2(a, b, a.v * b.v, b.v, a.v);
}

export function div(x: Operand, y: Operand): Dual {
  const a = dual(x);
  const b = dual(y);
  return lift2(a, b, a.v / b.v, 1 / b.v, -a.v / (b.v * b.v));
}

export const neg = (x: Operand): Dual => lift(dual(x), -dual(x).v, -1);

/** A power. With a constant exponent the base may be negative or zero. */
export function pow(x: Operand, y: Operand): Dual {
  const a = dual(x);
  const b = dual(y);
  const value = a.v ** b.v;
  const byBase = b.v === 0 ? 0 : b.v * a.v ** (b.v - 1);
  if (b.d.length === 0) return lift(a, value, byBase);
  return lift2(a, b, value, byBase, a.v > 0 ? value * Math.log(a.v) : 0);
}

export function sqrt(x: Operand): Dual {
  const a = dual(x);
  const root = Math.sqrt(a.v);
  return lift(a, root, 0.5 / root);
}

export function exp(x: Operand): Dual {
  const a = dual(x);
  const value = Math.exp(a.v);
  return lift(a, value, value);
}

export function log(x: Operand): Dual {
  const a = dual(x);
  return lift(a, Math.log(a.v), 1 / a.v);
}

/** exp(x) − 1 without the loss of digits near zero. */
export function expm1(x: Operand): Dual {
  const a = dual(x);
  return lift(a, Math.expm1(a.v), Math.exp(a.v));
}

/** ln(1 + x) without the loss of digits near zero. */
export function log1p(x: Operand): Dual {
  const a = dual(x);
  return lift(a, Math.log1p(a.v), 1 / (1 + a.v));
}

/** The polynomial with these coefficients, constant term first (Horner). */
export function polynomial(x: Operand, coefficients: readonly number[]): Dual {
  const a = dual(x);
  let value = 0;
  let slope = 0;
  for (let i = coefficients.length - 1; i >= 0; i--) {
    slope = slope * a.v + value;
    value = value * a.v + (coefficients[i] ?? 0);
  }
  return lift(a, value, slope);
}

/** The sum of several terms. */
export const sum = (...terms: readonly Operand[]): Dual => terms.reduce<Dual>(add, constant(0));

/** The product of several factors. */
export const product = (...factors: readonly Operand[]): Dual => factors.reduce<Dual>(mul, constant(1));

/**
 * The root of `f(root, …) = 0`, with exact derivatives by the implicit function theorem.
 *
 * @param root  a root already found on plain numbers, by whatever method suits the equation.
 * @param f     the equation, with the unknown as a dual number.
 * @param next  an argument index that no argument uses; the unknown is differentiated under it.
 */
export function implicit(root: number, next: number, f: (unknown: Dual) => Dual): Dual {
  const at = f(variable(root, next));
  const byUnknown = at.d[next] ?? 0;
  const partials = at.d.slice(0, next).map((p) => -p / byUnknown);
  return { v: root, d: partials };
}
