/** Rows L: pressure decay and leak rates. Rows N: bubbles. */
import { AMBIENT, call, inSI, outside } from "../call.ts";
import { noteValue } from "./note-value.ts";
import { both, each, input, leftOut, type Plans, type Row, run } from "./plan.ts";
import { slowedBy, smallDropFlow } from "./small-drop.ts";

const FORMULA = "formula language";
const REGULATION = "a regulation's or standard's own figure, which nothing in the checker works out";

/** The decay of rows L015 to L017. */
const cooling = (row: Row) => ({
  pressure: input(row, "p1_gauge"),
  temperature: input(row, "T1"),
  "new temperature": input(row, "T2"),
  ambient: input(row, "p_baro"),
});
const coolingLoss = (row: Row): number => input(row, "p1_gauge") - call("sealed pressure", cooling(row));

const evapLimit = (row: Row): number =>
  call("decay leak rate", {
    volume: input(row, "V"),
    start: inSI(14, "inH2O"),
    end: inSI(8, "inH2O"),
    time: input(row, "t"),
  });

/** The share of the start pressure from which `decay leak rate` warns. */
function warnedShare(): number {
  let quiet = 0;
  let warned = 1;
  for (let i = 0; i < 60; i++) {
    const share = (quiet + warned) / 2;
    const args = { volume: 1, start: 0, end: -share * AMBIENT, time: 1 };
    if (outside("decay leak rate", args).length > 0) warned = share;
    else quiet = share;
  }
  return (quiet + warned) / 2;
}

/** Throughput of one bubble of this size each second, at ambient pressure. */
const oneBubble = (row: Row): number =>
  call("bubble leak rate", { diameter: input(row, "d"), count: 1, time: 1 });

export const leakPlans: Plans = {
  L001: run("decay leak rate", (row) =>
    call("decay leak rate", {
      volume: input(row, "V"),
      start: input(row, "dp"),
      end: 0,
      time: input(row, "dt"),
    }),
  ),
  L002: run(FORMULA, () => noteValue("x [Pa.m3/s] = 224 Pa.m3 / 315360000 s")),
  ...each(
    ["L003", "L004", "L006", "L007", "L008", "L009", "L010", "L025"],
    run("units", (row) => input(row, "x")),
  ),
  L011: run(FORMULA, () => noteValue("x [mol/s] = 101325 N/m2 * 1 cm3/s / (8.314462618 J/mol/K * 273.15 K)")),
  L012: run(["standard flow", "breathed volume"], (row) => {
    const leak = { "leak rate": input(row, "q") * AMBIENT, temperature: 273.15 };
    const flow = call("standard flow", { ...leak, reference: input(row, "T") });
    // The same gas warmed in a vented housing pushes out what it gains.
    const gained = call("breathed volume", {
      volume: input(row, "q"),
      temperature: 273.15,
      "new temperature": input(row, "T"),
    });
    return both(flow, input(row, "q") + gained);
  }),
  L013: run("standard flow", (row) =>
    call("standard flow", {
      "leak rate": input(row, "q") * AMBIENT,
      temperature: 273.15,
      reference: input(row, "T"),
    }),
  ),
  L015: run("decay leak rate", (row) =>
    call("decay leak rate", {
      volume: input(row, "V"),
      start: input(row, "p1_gauge"),
      end: input(row, "p2_gauge"),
      time: input(row, "t"),
      "start temperature": input(row, "T1"),
      "end temperature": input(row, "T2"),
      "start ambient": input(row, "p_baro"),
    }),
  ),
  L016: run("sealed pressure", coolingLoss),
  L017: run(["sealed pressure", "span"], (row) => {
    const logged = [input(row, "p1_gauge"), call("sealed pressure", cooling(row))];
    return both(coolingLoss(row), call("span", { readings: logged }));
  }),
  L018: run("sealed pressure", (row) => {
    const args = { pressure: 3487, temperature: 293, "new temperature": 293 };
    return call("sealed pressure", { ...args, "new ambient": AMBIENT + input(row, "dp_baro") }) - 3487;
  }),
  L019: run(["decay leak rate", "slope"], (row) => {
    const fall = call("slope", {
      values: [14, 12, 10, 8].map((p) => inSI(p, "inH2O")),
      against: [0, 40, 80, 120],
    });
    return both(evapLimit(row), -fall * input(row, "V"));
  }),
  L020: run("decay leak rate", evapLimit),
  L022: run("difference", (row) =>
    call("difference", { first: input(row, "p_start"), second: input(row, "loss") }),
  ),
  L026: run(FORMULA, () => noteValue("x [inH2O] = 2 inH2O * 2.718281828459045 ^ (-500.887 / 5000)")),
  L029: run("decay leak rate", warnedShare),
  L030: run("decay leak rate", (row) => {
    const fall = call("decay leak rate", {
      volume: 1,
      start: input(row, "p1"),
      end: input(row, "p2"),
      time: 1,
      "start ambient": input(row, "p_baro"),
    });
    return fall / (input(row, "p1") + input(row, "p_baro"));
  }),
  L031: run(FORMULA, () => noteValue("x [kg/s] = 0.1 Pa.m3/s / (287.05 J/kg/K * 293.15 K)")),
  L032: leftOut(
    "scaling a laminar leak with pressure is not among the functions, and the row is from memory",
  ),
  ...each(["L033", "L034"], run("decay time", slowedBy)),
  ...each(["L021", "L024", "L027", "L028"], leftOut(REGULATION)),

  N002: run(FORMULA, () =>
    noteValue("x [mol/s] = 101325 N/m2 * 1e-5 cm3/s / (8.314462618 J/mol/K * 273.15 K)"),
  ),
  N006: run("bubble leak rate", (row) => oneBubble(row) / AMBIENT),
  N007: run("bubble leak rate", (row) => (input(row, "Q") * AMBIENT) / oneBubble(row)),
  ...each(
    ["N008", "N009"],
    run("bubble leak rate", (row) => oneBubble(row) / (input(row, "Q") * AMBIENT)),
  ),
  N010: run(["formula language", "fill time"], (row) => {
    // Filling to twice the ambient pressure takes one more volume of air.
    const args = { volume: 1e-6, flow: input(row, "Q"), pressure: AMBIENT };
    return both(call("fill time", args), noteValue("x [h] = 1 cm3 / 0.0001 cm3/s"));
  }),
  N011: run("bubble leak rate", (row) =>
    call("bubble leak rate", {
      diameter: input(row, "d"),
      count: input(row, "f"),
      time: 1,
      pressure: input(row, "p"),
    }),
  ),
  N013: run("bubble leak rate", (row) =>
    // Half a ball: one bubble counted as a half.
    call("bubble leak rate", {
      diameter: input(row, "d"),
      count: 0.5,
      time: input(row, "t"),
      pressure: input(row, "p"),
    }),
  ),
  N015: run(FORMULA, () => noteValue("x [µm] = 2 * 0.073 N/m / 100000 N/m2")),
  N016: run(FORMULA, () => noteValue("x [µm] = 4 * 0.073 N/m / 14 inH2O")),
  N017: run("orifice flow", smallDropFlow),
  ...each(["N001", "N004", "N005", "N014"], leftOut(REGULATION)),
  N018: leftOut("an order of magnitude from memory"),
};
