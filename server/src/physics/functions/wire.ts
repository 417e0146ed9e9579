import { AREA, CURRENT, LENGTH, NONE, RESISTANCE, VOLTAGE } from "../../units/dimension.ts";
import type { Dual } from "../dual.ts";
import { constant, mul, product, sub } from "../dual.ts";
import type { FormulaFunction, Inputs, Parameter } from "../function.ts";
import { refuse, value } from "../function.ts";
import { copperResistance, gaugeSection } from "../wire.ts";
import { NOTHING, quantity, temperature } from "./parameters.ts";

const conductor: readonly Parameter[] = [
  quantity("gauge", NONE, "", "American wire gauge; 0 for 1/0, −1 for 2/0, −3 for 4/0", NOTHING),
  quantity("section", AREA, "mm2", "section of the metal", NOTHING),
  temperature("temperature", "temperature of the wire", {
    value: 20,
    unit: "degC",
    tolerance: 20,
    says: "wire at 20 degC ± 20 K; copper gains 0.4 % for each kelvin",
  }),
  {
    name: "strand",
    says: "stranded or solid",
    takes: { kind: "choice", of: ["stranded", "solid"] },
    optional: { choice: "stranded", says: "stranded wire, 2 % more than solid" },
  },
];

const SOURCE =
  "Resistivity of annealed copper and its temperature coefficient (from memory), gauge series of ASTM B258; agrees with NEC chapter 9, table 8 at 75 degC to 0.5 %";

const ASSUMES = [
  "annealed copper: aluminium or copper-clad aluminium has up to 1.6 times the resistance (from memory)",
  "sound crimps and clean contacts, which in practice often lose more than the wire",
];

/** Resistance of one conductor of the given length, or the sentence that says why there is none. */
function resistance(inputs: Inputs): Dual | string {
  const gauge = inputs.maybe("gauge");
  const section = inputs.maybe("section");
  const length = inputs.quantity("length");
  if (gauge && section) return "Give either `gauge` or `section`, not both.";
  if (length.v < 0) return "The length cannot be below zero.";
  if (section && section.v <= 0) return "The section must be above zero.";
  if (gauge && (gauge.v < -3 || gauge.v > 40))
    return "The gauge must lie between −3 (4/0) and 40. Write 0 for 1/0, −1 for 2/0, −2 for 3/0, −3 for 4/0.";
  // A gauge is a label and no measurement, so it carries no uncertainty.
  const area = section ?? (gauge && constant(gaugeSection(gauge.v)));
  if (!area) return "Give the wire as `gauge: 14` (American wire gauge) or `section: 2.5 mm2`.";
  const strand = inputs.choice("strand") === "solid" ? "solid" : "stranded";
  return copperResistance(length, area, inputs.quantity("temperature"), strand);
}

function outsideWire(inputs: Inputs): readonly string[] {
  const at = inputs.quantity("temperature").v;
  return at < 233.15 || at > 423.15
    ? ["The wire temperature is outside −40 to 150 degC, where the straight-line law for copper is trusted."]
    : [];
}

export const wireResistance: FormulaFunction = {
  name: "wire resistance",
  area: "electrical",
  says: "Resistance of one copper wire of this length.",
  parameters: [quantity("length", LENGTH, "m", "length of the wire, one way"), ...conductor],
  gives: { dimension: RESISTANCE, scale: "plain", unit: "mΩ" },
  equation: "resistance = ρ · length / section · (1 + 0.00393 · (temperature − 20 degC))",
  assumes: ASSUMES,
  validity: "Copper from −40 to 150 degC.",
  source: SOURCE,
  examples: [
    {
      formula: "wire resistance(1 km, gauge: 18, temperature: 20 degC, strand: solid)",
      gives: "20948 mΩ",
      source: "resistivity over the section of the ASTM B258 diameter (reference row B062)",
    },
  ],
  compute(inputs) {
    const ohms = resistance(inputs);
    return typeof ohms === "string" ? refuse(ohms) : value(ohms);
  },
  outside: outsideWire,
};

export const wireDrop: FormulaFunction = {
  name: "wire drop",
  area: "electrical",
  says: "Voltage lost in a copper wire and its return, there and back.",
  parameters: [
    quantity("current", CURRENT, "A", "current in the wire"),
    quantity("length", LENGTH, "m", "distance one way; the way back is counted too"),
    ...conductor,
  ],
  gives: { dimension: VOLTAGE, scale: "plain", unit: "V" },
  equation: "drop = current · 2 · ρ · length / section · (1 + 0.00393 · (temperature − 20 degC))",
  assumes: [...ASSUMES, "the return is a wire of the same kind; through the body it loses less"],
  validity: "Copper from −40 to 150 degC.",
  source: SOURCE,
  caution:
    "A wire that is warm to the touch is loaded near its limit; size it and its fuse by the maker's service information.",
  examples: [
    {
      formula: "wire drop(20 A, 5 m, gauge: 12, temperature: 75 degC, strand: solid)",
      gives: "1.27 V",
      source: "NEC chapter 9, table 8: 1.93 Ω per 1000 ft at 75 degC (reference row B066)",
    },
  ],
  compute(inputs) {
    const ohms = resistance(inputs);
    return typeof ohms === "string" ? refuse(ohms) : value(product(2, inputs.quantity("current"), ohms));
  },
  outside: outsideWire,
};

export const supplySag: FormulaFunction = {
  name: "supply sag",
  area: "electrical",
  says: "Voltage that a supply or battery holds while this current is drawn.",
  parameters: [
    quantity("open voltage", VOLTAGE, "V", "voltage with nothing connected"),
    quantity("current", CURRENT, "A", "current drawn"),
    quantity("internal resistance", RESISTANCE, "mΩ", "inner resistance of the supply, leads included"),
  ],
  gives: { dimension: VOLTAGE, scale: "plain", unit: "V" },
  equation: "voltage = open voltage − current · internal resistance",
  assumes: ["the inner resistance does not change with current, charge or temperature"],
  validity: "While the result stays above about half the open voltage.",
  source: "Ohm's law",
  examples: [
    {
      formula: "supply sag(12.6 V, 150 A, 10 mΩ)",
      gives: "11.1 V",
      source: "Ohm's law in plain arithmetic: 150 A through 10 mΩ lose 1.5 V",
    },
  ],
  compute: (inputs) =>
    value(
      sub(
        inputs.quantity("open voltage"),
        mul(inputs.quantity("current"), inputs.quantity("internal resistance")),
      ),
    ),
  outside: (inputs, result) =>
    result < inputs.quantity("open voltage").v / 2
      ? ["The voltage falls to less than half: the supply cannot feed this current, or a reading is wrong."]
      : [],
};

export const wireFunctions: readonly FormulaFunction[] = [wireResistance, wireDrop, supplySag];
