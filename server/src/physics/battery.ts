/**
 * Rest voltage of 12 V lead-acid batteries against charge, by straight lines between the points of a table.
 *
 * Flooded: the table common in the trade (from memory); a published rounded table lies within 0.05 V of it
 * but for the empty battery. Absorbed glass mat: a common table from which makers differ by 0.1 V (from memory).
 */
export type BatteryKind = "flooded" | "agm";

interface Table {
  /** Rest voltages at 0, 25, 50, 75 and 100 % at about 25 °C. */
  readonly voltages: readonly [number, number, number, number, number];
  /** How far published tables lie apart, volts either way. */
  readonly tolerance: number;
}

export const BATTERY_TABLES: Readonly<Record<BatteryKind, Table>> = {
  flooded: { voltages: [11.89, 12.06, 12.24, 12.45, 12.65], tolerance: 0.05 },
  agm: { voltages: [11.8, 12, 12.3, 12.6, 12.8], tolerance: 0.1 },
};

/** Change of rest voltage for each kelvin, V/K: about 0.2 mV for each of six cells (from memory). */
export const REST_VOLTAGE_PER_KELVIN = 1.2e-3;

export interface ChargePoint {
  /** Share of full charge, held between 0 and 1. */
  readonly charge: number;
  /** Change of charge for each volt; zero beyond the ends of the table. */
  readonly slope: number;
  /** The slope of the nearest piece of the table, for the uncertainty even beyond its ends. */
  readonly pieceSlope: number;
}

/** Charge at a rest voltage (V, already brought to 25 °C). */
export function chargeAt(voltage: number, kind: BatteryKind): ChargePoint {
  const { voltages } = BATTERY_TABLES[kind];
  const last = voltages.length - 1;
  let piece = 0;
  while (piece < last - 1 && voltage > (voltages[piece + 1] ?? 0)) piece++;
  const low = voltages[piece] ?? 0;
  const pieceSlope = 1 / last / ((voltages[piece + 1] ?? 0) - low);
  const charge = piece / last + (voltage - low) * pieceSlope;
  if (charge < 0) return { charge: 0, slope: 0, pieceSlope };
  if (charge > 1) return { charge: 1, slope: 0, pieceSlope };
  return { charge, slope: pieceSlope, pieceSlope };
}

/** Rest voltage at a charge between 0 and 1, V. */
export function restVoltage(charge: number, kind: BatteryKind): number {
  const { voltages } = BATTERY_TABLES[kind];
  const at = Math.min(Math.max(charge, 0), 1) * (voltages.length - 1);
  const piece = Math.min(Math.floor(at), voltages.length - 2);
  const low = voltages[piece] ?? 0;
  return low + (at - piece) * ((voltages[piece + 1] ?? 0) - low);
}
