/** Every function of the formula language. A new one joins by one entry in its group's list. */
import type { FormulaFunction } from "./function.ts";
import { batteryTimeFunctions } from "./functions/battery-time.ts";
import { decayFunctions } from "./functions/decay.ts";
import { humidityFunctions } from "./functions/humidity.ts";
import { instrumentFunctions } from "./functions/instruments.ts";
import { orificeFunctions } from "./functions/orifice.ts";
import { readingFunctions } from "./functions/readings.ts";
import { sealedVolumeFunctions } from "./functions/sealed-volume.ts";
import { trendFunctions } from "./functions/trends.ts";
import { wireFunctions } from "./functions/wire.ts";

export const formulaFunctions: readonly FormulaFunction[] = [
  ...orificeFunctions,
  ...decayFunctions,
  ...sealedVolumeFunctions,
  ...humidityFunctions,
  ...batteryTimeFunctions,
  ...wireFunctions,
  ...instrumentFunctions,
  ...readingFunctions,
  ...trendFunctions,
];

const byName = new Map(formulaFunctions.map((entry) => [entry.name, entry]));

/** The function of this name, whatever its case. */
export const findFunction = (name: string): FormulaFunction | undefined => byName.get(name.toLowerCase());
