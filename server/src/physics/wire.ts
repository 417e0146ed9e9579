/**
 * Copper wire: gauge to section, and resistance with temperature.
 *
 * American wire gauge as the geometric series of ASTM B258, d = 0.127 mm · 92^((36 − n)/39).
 * Annealed copper 0.017241 Ω·mm²/m at 20 °C (100 % IACS) with 0.00393 per kelvin, both from memory and
 * matching NEC chapter 9, table 8. A stranded conductor of the same section is about 2 % longer, as its
 * strands are twisted.
 */
import type { Dual } from "./dual.ts";
import { add, constant, div, mul, product, sub } from "./dual.ts";

/** Resistivity of annealed copper at 20 °C, Ω·m. */
const COPPER_RESISTIVITY = 1.7241e-8;
/** Change of resistance for each kelvin, as a share of that at 20 °C. */
const COPPER_TEMPERATURE_COEFFICIENT = 0.00393;
const REFERENCE_TEMPERATURE = 293.15;
const LAY_FACTOR = 1.02;

export type Strand = "solid" | "stranded";

/** Diameter of a solid wire of this gauge in metres. 0 stands for 1/0, −1 for 2/0, −3 for 4/0. */
export const gaugeDiameter = (gauge: number): number => 0.127e-3 * 92 ** ((36 - gauge) / 39);

/** Metal section of this gauge in m². */
export const gaugeSection = (gauge: number): number => (Math.PI / 4) * gaugeDiameter(gauge) ** 2;

/** Resistance at a temperature over that at 20 °C. */
const temperatureFactor = (temperature: Dual): Dual =>
  add(1, mul(sub(temperature, REFERENCE_TEMPERATURE), COPPER_TEMPERATURE_COEFFICIENT));

/** Resistance in ohm of one conductor of this length (m) and metal section (m²) at a temperature (K). */
export function copperResistance(length: Dual, section: Dual, temperature: Dual, strand: Strand): Dual {
  const lay = constant(strand === "stranded" ? LAY_FACTOR : 1);
  return div(product(COPPER_RESISTIVITY, lay, length, temperatureFactor(temperature)), section);
}
