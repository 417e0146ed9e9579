/** Rows S: safety and pressure. Rows C: sealants and plastics. */
import { constant } from "../../../server/src/physics/dual.ts";
import { saturationTemperature } from "../../../server/src/physics/saturation.ts";
import { builtInProcedure } from "../../../server/src/procedures/load.ts";
import { type Arguments, call, inSI, outside } from "../call.ts";
import { noteValue } from "./note-value.ts";
import { each, input, leftOut, type Plans, type Row, run } from "./plan.ts";

const ids = (letter: string, ...numbers: readonly number[]): readonly string[] =>
  numbers.map((n) => `${letter}${String(n).padStart(3, "0")}`);

const FACT = "a rule's or data sheet's own figure, which nothing in the checker works out";
const CONVENTIONAL_WATER = 1000 / 998.206;

/** The pressure of a built-in default limit, Pa. */
function defaultLimit(procedure: string, rule: string, bound: "errorAbove" | "errorFrom"): number {
  const found = builtInProcedure(procedure)?.limits.find((limit) => limit.rule === rule)?.[bound];
  const [, number = "", unit = ""] = /^([\d.]+) (\S+)$/.exec(typeof found === "string" ? found : "") ?? [];
  return inSI(Number(number), unit);
}

/** Where something that rises or starts with depth does so, by halving, between 0 and 1 m. */
function depthWhere(reached: (depth: number) => boolean): number {
  let below = 0;
  let above = 1;
  for (let i = 0; i < 200; i++) {
    const middle = (below + above) / 2;
    if (reached(middle)) above = middle;
    else below = middle;
  }
  return (below + above) / 2;
}

/** The depth that cures in this time. */
const depthAfter = (time: number, sheet: Arguments): number =>
  depthWhere((depth) => call("cure time", { depth, ...sheet }) >= time);

const sheetOf = (row: Row) => ({ "sheet depth": input(row, "d1"), "sheet time": input(row, "t1") });

const boiling = (row: Row): number =>
  saturationTemperature(
    constant(row.inputs.p ? input(row, "p") : input(row, "p_gauge") + input(row, "p_atm")),
    0,
  ).v;

export const safetyPlans: Plans = {
  S001: run("default limit for cleaning air", () =>
    defaultLimit("lamp-moisture", "pressure/cleaning-air", "errorFrom"),
  ),
  S003: run("units", (row) => input(row, "x")),
  S009: run("default limit of the fuel-vapour system", () =>
    defaultLimit("evap-leak", "pressure/over-limit", "errorAbove"),
  ),
  ...each(
    ids("S", 13, 15),
    run("depth pressure", (row) => call("depth pressure", { depth: input(row, "h") }) * CONVENTIONAL_WATER),
  ),
  S014: run("depth pressure", (row) => call("depth pressure", { depth: input(row, "h") })),
  ...each(
    ids("S", 17, 18, 19),
    run("force on", (row) => call("force on", { pressure: input(row, "p"), area: input(row, "A") })),
  ),
  S020: run("formula language", () => noteValue("p: 14 inH2O\nx [J] = p * p * 50 L / (2 * 101325 N/m2)")),
  ...each(ids("S", 21, 22, 23), run(["dew point", "saturation pressure"], boiling)),
  ...each(ids("S", 2, 4, 5, 6, 8, 10, 11, 12, 24, 27), leftOut(FACT)),
  S026: leftOut("coolant is a mixture; the checker works out pure water alone"),

  ...each(
    ids("C", 4, 6),
    run("cure time", (row) => depthAfter(input(row, "t"), {})),
  ),
  C005: run("cure time", () =>
    depthWhere((depth) => outside("cure time", { depth }).some((s) => s.includes("deeper"))),
  ),
  C007: run("cure time", (row) => depthAfter(input(row, "t"), sheetOf(row))),
  ...each(
    ids("C", 8, 10),
    run("cure time", (row) => call("cure time", { depth: input(row, "d"), ...sheetOf(row) })),
  ),
  C009: run("cure time", (row) => call("cure time", { depth: input(row, "bead") / 2, ...sheetOf(row) })),
  C011: run("bead volume", (row) => call("bead volume", { length: input(row, "L"), width: input(row, "d") })),
  C012: run("bead volume", (row) =>
    call("bead volume", {
      length: input(row, "L"),
      width: input(row, "a"),
      height: input(row, "a"),
      shape: "fillet",
    }),
  ),
  C013: run(["bead volume", "tubes"], (row) => {
    const perMetre = call("bead volume", { length: 1, width: input(row, "d") });
    return 1 / call("tubes", { volume: perMetre, "tube size": input(row, "V") });
  }),
  C014: run("bead volume", (row) => {
    const round = call("bead volume", { length: 1, width: input(row, "d") });
    return round / call("bead volume", { length: 1, width: 1, height: input(row, "gap") });
  }),
  ...each(ids("C", 1, 2, 3, 15, 17, 18, 19, 20, 21, 22, 23, 24, 25), leftOut(FACT)),
};
