/** Rows O: flow through holes. */
import { constant } from "../../../server/src/physics/dual.ts";
import { criticalFlow, criticalRatio, nozzleFunction } from "../../../server/src/physics/nozzle.ts";
import { AMBIENT, call } from "../call.ts";
import { noteValue } from "./note-value.ts";
import { each, input, leftOut, type Plans, type Row, run, wider } from "./plan.ts";
import { R_AIR, smallDropFlow, smallDropSize } from "./small-drop.ts";

const FORMULA = "formula language";
const PIPE_ORIFICE = "an orifice plate or valve in a pipe, which none of the functions deals with";
const REGULATION = "a regulation's own figure, which nothing in the checker works out";

/** Mass flow of a hole, kg/s: the volume flow times the density upstream, with the row's gas constant. */
function massFlow(row: Row, drop: number, upstream: number, discharge: number): number {
  const temperature = input(row, "T");
  const constantOfRow = input(row, "R");
  const flow = call("orifice flow", {
    diameter: input(row, "d"),
    drop,
    upstream,
    temperature: (temperature * constantOfRow) / R_AIR,
    discharge,
  });
  return (flow * upstream) / (constantOfRow * temperature);
}

/** Lowest gauge pressure whose flow to this ambient pressure is choked. */
const chokingGauge = (ambient: number): number => ambient * (1 / criticalRatio(1.4) - 1);

const ROUNDED_RATIO = "the row rounds the critical ratio to 0.528";

export const orificePlans: Plans = {
  ...each(
    ["O001", "O002"],
    run("orifice flow", (row) => criticalRatio(input(row, "gamma"))),
  ),
  O003: run("orifice flow", (row) => criticalFlow(input(row, "gamma"))),
  O004: run("orifice flow", (row) =>
    massFlow(row, input(row, "P_gage"), input(row, "P_gage") + input(row, "P_atm"), 1),
  ),
  O005: run(FORMULA, () => noteValue("x [m/s] = (2 * 1.4 / 2.4 * 287 J/kg/K * 298 K) ^ 0.5")),
  O006: run(FORMULA, () =>
    noteValue("x [kg/m3] = 314000 N/m2 / (287 J/kg/K * 298 K) * (2 / 2.4) ^ (1 / 0.4)"),
  ),
  O008: run(
    "orifice flow",
    (row) => (input(row, "p1") + input(row, "p_atm")) * criticalRatio(1.4) - input(row, "p_atm"),
    wider("abs", 0.03, ROUNDED_RATIO),
  ),
  O009: run("orifice flow", (row) => chokingGauge(input(row, "p_atm")), wider("abs", 0.02, ROUNDED_RATIO)),
  O010: run("orifice flow", (row) => chokingGauge(input(row, "p_atm"))),
  O011: run(FORMULA, () => noteValue("x [m/s] = (1.4 * 287.05 J/kg/K * 293.15 K) ^ 0.5")),
  O012: run(FORMULA, () => noteValue("x [m/s] = (2 * 1.4 / 2.4 * 287.05 J/kg/K * 293.15 K) ^ 0.5")),
  O013: run(FORMULA, () => noteValue("x [kg/m3] = 101325 N/m2 / (287.05 J/kg/K * 293.15 K)")),
  O014: run(FORMULA, () => noteValue("d: 0.02 in\nx [mm2] = 3.14159265358979 / 4 * d ^ 2")),
  O015: run(FORMULA, () => noteValue("d: 0.04 in\nx [mm2] = 3.14159265358979 / 4 * d ^ 2")),
  O017: run(["orifice flow", "orifice size"], (row) => {
    const flow = (name: string): number => call("orifice flow", { diameter: input(row, name), drop: 3487 });
    return call("orifice size", { flow: flow("d1") + flow("d2"), drop: 3487 });
  }),
  O018: run("orifice flow", () => {
    const flow = (diameter: number): number => call("orifice flow", { diameter, drop: 3487 });
    return flow(0.04 * 0.0254) / flow(0.02 * 0.0254);
  }),
  ...each(
    [...["O019", "O020", "O021", "O022", "O023", "O024", "O026", "O027", "O028"], ...["O029", "O030"]],
    run("orifice flow", smallDropFlow),
  ),
  ...each(["O031", "O054"], run("orifice size", smallDropSize)),
  ...each(
    ["O035", "O036", "O037"],
    run("orifice flow", (row) =>
      massFlow(row, input(row, "p1_gauge"), input(row, "p1_gauge") + input(row, "p2"), input(row, "Cd")),
    ),
  ),
  O038: run("orifice flow", (row) =>
    massFlow(row, input(row, "p1_gauge"), input(row, "p1_gauge") + AMBIENT, input(row, "Cd")),
  ),
  O044: run("orifice flow", (row) => {
    // ISO 5167-4 expansibility of a nozzle: our nozzle function over its incompressible limit, with the
    // speed of approach that a pipe adds.
    const kappa = input(row, "kappa");
    const ratio = input(row, "p2") / input(row, "p1");
    const beta4 = (input(row, "d") / input(row, "D")) ** 4;
    const still = nozzleFunction(constant(1 - ratio), kappa).v ** 2 / (2 * (1 - ratio));
    return Math.sqrt((still * (1 - beta4)) / (1 - beta4 * ratio ** (2 / kappa)));
  }),
  ...each(["O039", "O040", "O041", "O042", "O045", "O046", "O047", "O048"], leftOut(PIPE_ORIFICE)),
  ...each(["O032", "O033", "O049", "O050", "O051", "O052", "O053"], leftOut(REGULATION)),
};
