/** Every function of the formula language. A new one joins by one entry in its group's list. */
import type { FormulaFunction } from "./function.ts";
import { batteryTimeFunctions } from "./functions/battery-time.ts";
import { chargeStateFunctions } from "./functions/charge-state.ts";
import { curingFunctions } from "./functions/curing.ts";
import { decayFunctions } from "./functions/decay.ts";
import { dryingFunctions } from "./functions/drying.ts";
import { fillingFunctions } from "./functions/filling.ts";
import { humidityFunctions } from "./functions/humidity.ts";
import { instrumentFunctions } from "./functions/instruments.ts";
import { leakAmountFunctions } from "./functions/leak-amounts.ts";
import { moistAirFunctions } from "./functions/moist-air.ts";
import { orificeFunctions } from "./functions/orifice.ts";
import { readingFunctions } from "./functions/readings.ts";
import { sealedVolumeFunctions } from "./functions/sealed-volume.ts";
import { sealingFunctions } from "./functions/sealing.ts";
import { trendFunctions } from "./functions/trends.ts";
import { wireFunctions } from "./functions/wire.ts";

export const formulaFunctions: readonly FormulaFunction[] = [
  ...orificeFunctions,
  ...decayFunctions,
  ...leakAmountFunctions,
  ...fillingFunctions,
  ...sealedVolumeFunctions,
  ...humidityFunctions,
  ...moistAirFunctions,
  ...dryingFunctions,
  ...chargeStateFunctions,
  ...batteryTimeFunctions,
  ...wireFunctions,
  ...sealingFunctions,
  ...curingFunctions,
  ...instrumentFunctions,
  ...readingFunctions,
  ...trendFunctions,
];

const byName = new Map(formulaFunctions.map((entry) => [entry.name, entry]));

/** The function of this name, whatever its case. */
export const findFunction = (name: string): FormulaFunction | undefined => byName.get(name.toLowerCase());
