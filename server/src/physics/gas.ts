/**
 * Gases that leak tests use, as ideal gases.
 *
 * The specific gas constant is R / M with R = 8.314462618 J/(mol·K) (SI Brochure, 2019) and molar masses
 * from the IUPAC atomic weights; air is the dry air of the standard atmosphere (ISO 2533: 287.05287 J/(kg·K)).
 * Ratios of specific heats and viscosities near 20 °C are rounded handbook figures, from memory.
 */
export interface Gas {
  readonly name: GasName;
  /** Specific gas constant, J/(kg·K). */
  readonly constant: number;
  /** Ratio of specific heats. */
  readonly gamma: number;
  /** Dynamic viscosity at 20 °C, Pa·s. */
  readonly viscosity: number;
}

export type GasName = "air" | "nitrogen" | "carbon dioxide" | "argon";

const MOLAR_GAS_CONSTANT = 8.314462618;

const gas = (name: GasName, constant: number, gamma: number, viscosity: number): Gas => ({
  name,
  constant,
  gamma,
  viscosity,
});

export const AIR = gas("air", 287.05287, 1.4, 1.82e-5);

const GASES: readonly Gas[] = [
  AIR,
  gas("nitrogen", MOLAR_GAS_CONSTANT / 28.014e-3, 1.4, 1.76e-5),
  gas("carbon dioxide", MOLAR_GAS_CONSTANT / 44.009e-3, 1.289, 1.47e-5),
  gas("argon", MOLAR_GAS_CONSTANT / 39.948e-3, 5 / 3, 2.23e-5),
];

export const GAS_NAMES: readonly string[] = GASES.map((g) => g.name);

/** The gas of this name; air for a name that is not known, which the argument check has reported by then. */
export const gasNamed = (name: string): Gas => GASES.find((g) => g.name === name) ?? AIR;
