import { NONE, VOLTAGE } from "../../units/dimension.ts";
import { BATTERY_TABLES, type BatteryKind, chargeAt, REST_VOLTAGE_PER_KELVIN } from "../battery.ts";
import type { Dual } from "../dual.ts";
import { lift, mul, sub } from "../dual.ts";
import type { FormulaFunction, Inputs } from "../function.ts";
import { refuse, value } from "../function.ts";
import { quantity, temperature } from "./parameters.ts";

const REFERENCE_TEMPERATURE = 298.15;

const kindOf = (inputs: Inputs): BatteryKind => (inputs.choice("battery") === "agm" ? "agm" : "flooded");

/** The rest voltage as it would be at 25 °C. */
const atReference = (inputs: Inputs): Dual =>
  sub(
    inputs.quantity("rest voltage"),
    mul(sub(inputs.quantity("temperature"), REFERENCE_TEMPERATURE), REST_VOLTAGE_PER_KELVIN),
  );

export const chargeState: FormulaFunction = {
  name: "charge state",
  area: "electrical",
  says: "How full a rested 12 V lead-acid battery is, by its voltage with nothing connected.",
  parameters: [
    quantity("rest voltage", VOLTAGE, "V", "voltage after a rest of at least 8 hours, nothing drawn"),
    {
      name: "battery",
      says: "flooded or agm",
      takes: { kind: "choice", of: ["flooded", "agm"] },
      optional: { choice: "flooded", says: "a flooded battery" },
    },
    temperature("temperature", "temperature of the battery", {
      value: 25,
      unit: "degC",
      tolerance: 15,
      says: "battery at 25 degC ± 15 K",
    }),
  ],
  gives: { dimension: NONE, scale: "plain", unit: "%" },
  equation:
    "straight lines through the table of rest voltages: flooded 11.89 12.06 12.24 12.45 12.65 V, agm 11.8 12.0 12.3 12.6 12.8 V at 0 25 50 75 100 %",
  assumes: [
    "a rested battery: one that was just charged or driven reads too high, one just loaded too low",
    "tables from which makers differ by 0.05 V (flooded) or 0.1 V (agm), which is in the uncertainty",
    "a rise of 1.2 mV for each kelvin (from memory)",
  ],
  validity: "12 V lead-acid batteries between empty and full.",
  source:
    "Tables common in the trade (from memory); a published rounded table, 12.6 12.4 12.2 12.0 V at 100 75 50 25 %, lies within 0.06 V",
  caution:
    "A full charge is no proof of a sound battery: a worn one shows the same voltage. A flat flooded battery can freeze; do not charge a frozen one.",
  examples: [
    {
      formula: "charge state(12.45 V, temperature: 25 degC)",
      gives: "75 %",
      source: "table common in the trade, from memory (reference row B002)",
    },
  ],
  compute(inputs) {
    const open = inputs.quantity("rest voltage");
    if (open.v > 20)
      return refuse(
        "This is for a 12 V battery. For a 24 V system measure each of the two batteries, or put in half the voltage.",
      );
    if (open.v < 9)
      return refuse(
        "Below 9 V a 12 V lead-acid battery has a dead cell or is deeply flat, and its charge cannot be told from the voltage.",
      );
    const volts = atReference(inputs);
    const kind = kindOf(inputs);
    const at = chargeAt(volts.v, kind);
    return value(lift(volts, at.charge, at.slope), {
      standardUncertainty: (BATTERY_TABLES[kind].tolerance * at.pieceSlope) / Math.sqrt(3),
      says: "tables of rest voltage differ between makers",
    });
  },
  outside(inputs) {
    const { voltages, tolerance } = BATTERY_TABLES[kindOf(inputs)];
    const volts = atReference(inputs).v;
    const [empty, , , , full] = voltages;
    if (volts > full + tolerance)
      return [
        "The voltage is above that of a full battery at rest: it was charged a short time ago. Let it rest, or switch on the headlamps for a minute, and read again.",
      ];
    return volts < empty
      ? ["The voltage is below that of an empty battery: charge it and test it before relying on it."]
      : [];
  },
};

export const chargeStateFunctions: readonly FormulaFunction[] = [chargeState];
