/** Rows B: batteries and wire. */
import { type BatteryKind, restVoltage } from "../../../server/src/physics/battery.ts";
import { gaugeDiameter } from "../../../server/src/physics/wire.ts";
import { call } from "../call.ts";
import { noteValue } from "./note-value.ts";
import { both, each, input, leftOut, type Plans, type Row, run, wider } from "./plan.ts";

const ids = (...numbers: readonly number[]): readonly string[] =>
  numbers.map((n) => `B${String(n).padStart(3, "0")}`);

const FACT = "a test condition or guide figure, which nothing in the checker works out";

const restVoltageOf =
  (kind: BatteryKind) =>
  (row: Row): number =>
    restVoltage(input(row, "SoC"), kind);

/** Peukert arguments of a row, in SI. */
const peukert = (row: Row) => ({
  capacity: input(row, "C"),
  current: input(row, "I"),
  exponent: input(row, "k"),
  "rated time": input(row, "T"),
});
const effectiveCapacity = (row: Row): number => call("run time", peukert(row)) * input(row, "I");

/** The gauge of a row as the function takes it: 0 for 1/0, −1 for 2/0, −3 for 4/0. */
function gauge(row: Row): number {
  const written = row.inputs.AWG?.value ?? row.inputs.n?.value;
  if (typeof written === "number") return written;
  const [, zeros] = /^(\d)\/0$/.exec(written ?? "") ?? [];
  return zeros ? 1 - Number(zeros) : Number(written);
}

/** Resistance for each metre at 75 °C, the temperature of the table. */
const tableResistance = (row: Row): number =>
  call("wire resistance", {
    length: 1,
    gauge: gauge(row),
    temperature: 348.15,
    strand: row.quantity.includes("stranded") ? "stranded" : "solid",
  });

const TABLE_ROUNDED = wider("rel", 0.005, "the row multiplies a table value that is rounded to three digits");

export const electricalPlans: Plans = {
  ...each(ids(1, 2, 3, 4, 5, 6, 7, 8), run("charge state", restVoltageOf("flooded"))),
  B009: run(
    "charge state",
    restVoltageOf("flooded"),
    wider("abs", 0.061, "the published tables differ by 0.06 V at 25 %, and ours is the finer one"),
  ),
  B010: leftOut("published tables differ by 0.3 V for an empty battery; ours takes the cautious, higher one"),
  ...each(ids(11, 12, 13, 14, 15), run("charge state", restVoltageOf("agm"))),
  B016: run("charge state", () => (restVoltage(1, "flooded") - restVoltage(0.25, "flooded")) / 7.5),
  B017: run("formula language", () => noteValue("x [%] = 1 % * 12 V / (0.008 V / 1 %)")),
  B022: run("formula language", () => noteValue("x [A.h] = 25 A * 100 min")),
  B029: run("run time", (row) => call("run time", peukert(row))),
  B030: leftOut(
    "a form of Peukert's law that is wrong for a 20-hour rating; bench-work.test.ts shows ours differ",
  ),
  B031: run("run time", (row) => call("run time", peukert(row))),
  ...each(ids(33, 34), run("run time", effectiveCapacity)),
  B035: run(
    "reserve left",
    (row) =>
      1 -
      call("reserve left", {
        capacity: input(row, "C"),
        current: input(row, "I"),
        time: input(row, "t"),
        exponent: 1,
      }),
  ),
  B037: run(["run time", "draw per day"], (row) => {
    const time = call("run time", { capacity: input(row, "Q"), current: input(row, "I") });
    const perDay = call("draw per day", { current: input(row, "I") });
    return both(time, (86400 * input(row, "Q")) / perDay);
  }),
  B038: run("run time", (row) =>
    call("run time", {
      capacity: input(row, "C"),
      current: input(row, "I"),
      reserve: 1 - input(row, "share"),
    }),
  ),
  B039: run(["formula language", "supply sag"], (row) => {
    const sag = { "open voltage": 12, current: input(row, "I"), "internal resistance": input(row, "R") };
    return both(noteValue("x [mV] = 50 mA * 0.1 Ω"), 12 - call("supply sag", sag));
  }),
  ...each(
    ids(40, 42, 43, 44, 45, 46, 47, 48, 49, 51, 52, 53, 54, 55, 56),
    run("wire resistance", tableResistance),
  ),
  ...each(
    ids(57, 58, 60, 61),
    run("wire resistance", (row) => gaugeDiameter(gauge(row))),
  ),
  ...each(
    ids(62, 63),
    run("wire resistance", (row) =>
      call("wire resistance", { length: 1, gauge: gauge(row), temperature: 293.15, strand: "solid" }),
    ),
  ),
  B064: run("wire resistance", (row) => {
    const at = (name: string): number =>
      call("wire resistance", { length: 1, section: 1e-6, temperature: input(row, name) });
    return at("T2") / at("T1");
  }),
  B065: run(
    "wire drop",
    (row) =>
      call("wire drop", {
        current: input(row, "I"),
        length: input(row, "L_loop") / 2,
        gauge: 10,
        temperature: 348.15,
        strand: "stranded",
      }),
    TABLE_ROUNDED,
  ),
  B066: run(
    "wire drop",
    (row) =>
      call("wire drop", {
        current: input(row, "I"),
        length: input(row, "L_loop") / 2,
        gauge: 12,
        temperature: 348.15,
        strand: "solid",
      }),
    TABLE_ROUNDED,
  ),
  ...each(ids(18, 19, 20, 21, 24, 25, 26, 27, 28, 36, 67, 69, 70), leftOut(FACT)),
};
