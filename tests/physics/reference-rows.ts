/**
 * Every row of the reference values with the way it is checked. `checkReference` gives one result a row, for
 * the test beside it and for the printed table.
 */
import { call } from "./call.ts";
import { electricalPlans } from "./reference/electrical.ts";
import { leakPlans } from "./reference/leaks.ts";
import { measuringPlans, oraclePlans } from "./reference/measuring.ts";
import { moistAirPlans } from "./reference/moist-air.ts";
import { orificePlans } from "./reference/orifices.ts";
import { both, type Checked, checkRow, input, type Plan, referenceRows, run } from "./reference/plan.ts";
import { safetyPlans } from "./reference/safety-and-sealing.ts";

const unitRows = referenceRows.filter((row) => row.id.startsWith("U"));

export const plans: ReadonlyMap<string, Plan> = new Map([
  // Every row of area 1 turns one number from one unit into another.
  ...unitRows.map((row): [string, Plan] => [row.id, run("units", (r) => input(r, "x"))]),
  ...Object.entries({
    U054: run(["units", "scaled"], (row) => {
      // A thermometer scale is a straight line too: 32 to 212 degF for 0 to 100 degC.
      const scale = { "low signal": 32, "high signal": 212, low: 273.15, high: 373.15 };
      return both(input(row, "x"), call("scaled", { signal: row.inputs.x?.value ?? "", ...scale }));
    }),
    ...leakPlans,
    ...orificePlans,
    ...moistAirPlans,
    ...electricalPlans,
    ...safetyPlans,
    ...measuringPlans,
    ...oraclePlans,
  }),
]);

/** Whether the row rests on memory alone. */
export const fromMemory = (checked: Checked): boolean => checked.row.status.startsWith("from memory");

/** Every row, checked, in the order of the file. */
export function checkReference(): readonly Checked[] {
  return referenceRows.map((row) => {
    const plan = plans.get(row.id);
    if (!plan) throw new Error(`row ${row.id} has neither a check nor a reason why it is left out`);
    return checkRow(row, plan);
  });
}
