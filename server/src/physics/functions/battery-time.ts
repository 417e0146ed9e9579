import { CHARGE, CURRENT, NONE, TIME } from "../../units/dimension.ts";
import type { Dual } from "../dual.ts";
import { div, mul, pow, sub } from "../dual.ts";
import type { FormulaFunction, Inputs, Parameter } from "../function.ts";
import { refuse, value } from "../function.ts";
import { quantity, share } from "./parameters.ts";

const SOURCE =
  "Peukert's law with the rated time, t = T · (C / (I · T))^k; exponent 1.2 ± 0.1 for starter batteries is common practice, no source";

const ASSUMES = [
  "a healthy battery that holds its rated capacity; an old or cold one holds less",
  "the capacity is the one at the rated time, 20 h unless given",
  "below the rated current no more than the rated capacity is counted, to stay on the safe side",
];

const exponent: Parameter = quantity("exponent", NONE, "", "Peukert exponent", {
  value: 1.2,
  unit: "1",
  tolerance: 0.1,
  says: "Peukert exponent 1.2 ± 0.1",
});
const ratedTime: Parameter = quantity(
  "rated time",
  TIME,
  "h",
  "discharge time that the capacity is rated at",
  {
    value: 20,
    unit: "h",
    tolerance: 0,
    says: "capacity at the 20-hour rate",
  },
);

/** Time from full to empty at this current, in seconds, or the sentence that says why there is none. */
function emptyingTime(inputs: Inputs): Dual | string {
  const capacity = inputs.quantity("capacity");
  const current = inputs.quantity("current");
  const rated = inputs.quantity("rated time");
  const k = inputs.quantity("exponent");
  if (capacity.v <= 0) return "The capacity must be above zero.";
  if (current.v <= 0) return "The current must be above zero for the battery to run down.";
  if (rated.v <= 0) return "The rated time must be above zero.";
  if (k.v < 1)
    return "A Peukert exponent below 1 would mean that a battery gives more the harder it is drawn. It lies between 1 and 1.6.";
  const share = div(capacity, mul(current, rated));
  return share.v >= 1 ? div(capacity, current) : mul(rated, pow(share, k));
}

function outsideBattery(inputs: Inputs): readonly string[] {
  const said: string[] = [];
  if (inputs.quantity("exponent").v > 1.6)
    said.push("The Peukert exponent is over 1.6; starter batteries lie between 1.05 and 1.4 (from memory).");
  if (inputs.quantity("current").v > inputs.quantity("capacity").v / 3600)
    said.push(
      "The current would empty the battery in less than an hour; Peukert's law is rough there and the voltage sags early.",
    );
  return said;
}

const NO_RESERVE =
  "No reserve is kept back, so the battery is empty at the end. Using about 40 % of the charge usually already leaves an engine that will not start (vehicle service text).";

export const runTime: FormulaFunction = {
  name: "run time",
  area: "electrical",
  says: "How long a full battery feeds a steady current, down to the reserve that is to stay in it.",
  parameters: [
    quantity("capacity", CHARGE, "A.h", "rated capacity"),
    quantity("current", CURRENT, "A", "steady current drawn"),
    share("reserve", "share of the charge that is to stay in the battery", {
      value: 0,
      unit: "%",
      tolerance: 0,
      says: "no reserve kept back",
    }),
    exponent,
    ratedTime,
  ],
  gives: { dimension: TIME, scale: "plain", unit: "h" },
  equation: "time = rated time · (capacity / (current · rated time))^exponent · (1 − reserve)",
  assumes: ASSUMES,
  validity: "Currents between the rated one and about the capacity per hour; exponent 1 to 1.6.",
  source: SOURCE,
  caution:
    "Running equipment from a vehicle's battery may leave the engine unable to start and ages the battery; use a supply where you can.",
  examples: [
    {
      formula: "run time(120 A.h, 120 A, exponent: 1.4)",
      gives: "0.3017 h",
      source: "a public worked example, printed as 0.30 h, about 18 minutes (reference row B029)",
    },
  ],
  compute(inputs) {
    const reserve = inputs.quantity("reserve");
    if (reserve.v < 0 || reserve.v > 1) return refuse("The reserve is a share between 0 and 100 %.");
    const empty = emptyingTime(inputs);
    return typeof empty === "string" ? refuse(empty) : value(mul(empty, sub(1, reserve)));
  },
  outside: outsideBattery,
  remarks: (inputs) => (inputs.quantity("reserve").v > 0 ? [] : [NO_RESERVE]),
};

export const reserveLeft: FormulaFunction = {
  name: "reserve left",
  area: "electrical",
  says: "Share of the charge that is left after drawing a steady current for a time.",
  parameters: [
    quantity("capacity", CHARGE, "A.h", "rated capacity"),
    quantity("current", CURRENT, "A", "steady current drawn"),
    quantity("time", TIME, "h", "time it was drawn"),
    share("charge", "share of the charge at the start", {
      value: 100,
      unit: "%",
      tolerance: 0,
      says: "a full battery at the start",
    }),
    exponent,
    ratedTime,
  ],
  gives: { dimension: NONE, scale: "plain", unit: "%" },
  equation: "left = charge − time / (rated time · (capacity / (current · rated time))^exponent)",
  assumes: ASSUMES,
  validity: "Currents between the rated one and about the capacity per hour; exponent 1 to 1.6.",
  source: SOURCE,
  caution:
    "Using about 40 % of the charge usually already leaves an engine that will not start (vehicle service text).",
  examples: [
    {
      formula: "reserve left(70 A.h, 12 A, 1.5 h, exponent: 1)",
      gives: "74.29 %",
      source: "charge drawn over capacity by plain arithmetic: 18 of 70 A.h are 25.71 % (reference row B035)",
    },
  ],
  compute(inputs) {
    const time = inputs.quantity("time");
    if (time.v < 0) return refuse("The time cannot be below zero.");
    const charge = inputs.quantity("charge");
    if (charge.v < 0 || charge.v > 1) return refuse("The charge is a share between 0 and 100 %.");
    const empty = emptyingTime(inputs);
    return typeof empty === "string" ? refuse(empty) : value(sub(charge, div(time, empty)));
  },
  outside(inputs, result) {
    const said = [...outsideBattery(inputs)];
    if (result < 0) said.push("The battery is empty before that time is over.");
    return said;
  },
};

export const drawPerDay: FormulaFunction = {
  name: "draw per day",
  area: "electrical",
  says: "Charge that a steady current takes from the battery in a day.",
  parameters: [quantity("current", CURRENT, "mA", "steady current, such as the key-off draw")],
  gives: { dimension: CHARGE, scale: "plain", unit: "A.h" },
  equation: "charge = current · 24 h",
  assumes: ["the current stays as it was measured, with every control unit asleep"],
  validity: "Any steady current.",
  source: "Charge is current times time",
  caution:
    "Limits from 35 to 120 mA for the key-off draw are all in use; 50 mA is convention, no source. The maker's service information decides.",
  examples: [
    {
      formula: "draw per day(50 mA)",
      gives: "1.2 A.h",
      source: "plain arithmetic; 24 A.h last 20 days (reference row B037)",
    },
  ],
  compute: (inputs) => value(mul(inputs.quantity("current"), 86400)),
};

export const batteryTimeFunctions: readonly FormulaFunction[] = [runTime, reserveLeft, drawPerDay];
