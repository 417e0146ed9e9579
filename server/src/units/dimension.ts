/**
 * Dimensions of quantities as exponents of the seven SI base quantities (BIPM SI Brochure).
 * Dimensions are interned: two equal dimensions are the same object, so they compare with `===`.
 */

/** Order of the exponents: metre, kilogram, second, ampere, kelvin, mole, candela. */
export type Exponents = readonly [number, number, number, number, number, number, number];

export interface Dimension {
  /** Canonical text of the exponents, unique to this dimension. */
  readonly id: string;
  readonly exponents: Exponents;
}

const interned = new Map<string, Dimension>();

/** The one object for these exponents. Fractions are allowed, since a square root halves them. */
export function dimension(exponents: Exponents): Dimension {
  const id = exponents.join(" ");
  const known = interned.get(id);
  if (known) return known;
  const made: Dimension = { id, exponents };
  interned.set(id, made);
  return made;
}

const base = (m: number, kg = 0, s = 0, A = 0, K = 0, mol = 0, cd = 0): Dimension =>
  dimension([m, kg, s, A, K, mol, cd]);

export const NONE = base(0);
export const LENGTH = base(1);
export const MASS = base(0, 1);
export const TIME = base(0, 0, 1);
export const CURRENT = base(0, 0, 0, 1);
export const TEMPERATURE = base(0, 0, 0, 0, 1);
export const AREA = base(2);
export const VOLUME = base(3);
export const SPEED = base(1, 0, -1);
export const FORCE = base(1, 1, -2);
export const PRESSURE = base(-1, 1, -2);
/** Energy, torque and the product of pressure and volume share one dimension. */
export const ENERGY = base(2, 1, -2);
export const POWER = base(2, 1, -3);
/** Throughput pV/t of a leak has the dimension of power. */
export const THROUGHPUT = POWER;
export const VOLUME_FLOW = base(3, 0, -1);
export const MASS_FLOW = base(0, 1, -1);
export const DENSITY = base(-3, 1);
export const VOLTAGE = base(2, 1, -3, -1);
export const RESISTANCE = base(2, 1, -3, -2);
export const CHARGE = base(0, 0, 1, 1);
export const FREQUENCY = base(0, 0, -1);
export const CAPACITANCE = base(-2, -1, 4, 2);
export const INDUCTANCE = base(2, 1, -2, -2);
/** Dynamic viscosity. */
export const VISCOSITY = base(-1, 1, -1);
export const AMOUNT = base(0, 0, 0, 0, 0, 1);
export const LUMINOUS_INTENSITY = base(0, 0, 0, 0, 0, 0, 1);

const products = new Map<Dimension, Map<Dimension, Dimension>>();

/** Dimension of a product. Remembered, as the evaluator asks for the same few pairs all day. */
export function times(a: Dimension, b: Dimension): Dimension {
  if (a === NONE) return b;
  if (b === NONE) return a;
  const row = products.get(a) ?? new Map<Dimension, Dimension>();
  products.set(a, row);
  const product = row.get(b) ?? combine(a, b, 1);
  row.set(b, product);
  return product;
}

/** Dimension of a quotient. */
export function over(a: Dimension, b: Dimension): Dimension {
  return b === NONE ? a : combine(a, b, -1);
}

/** Dimension of a power. */
export function toPower(a: Dimension, power: number): Dimension {
  return power === 1 ? a : dimension(mapExponents(a.exponents, (e) => e * power));
}

function combine(a: Dimension, b: Dimension, sign: 1 | -1): Dimension {
  return dimension(mapExponents(a.exponents, (e, i) => e + sign * (b.exponents[i] ?? 0)));
}

function mapExponents(exponents: Exponents, f: (e: number, i: number) => number): Exponents {
  // Adding zero turns a negative zero into a plain one, so that the id stays unique.
  const at = (i: number) => f(exponents[i] ?? 0, i) + 0;
  return [at(0), at(1), at(2), at(3), at(4), at(5), at(6)];
}
