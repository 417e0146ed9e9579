/** Rows M: uncertainty and rounding. Rows X: other programs' answers. */
import { decimalsFor, roundHalfEven } from "../../../server/src/analysis/rounding.ts";
import { studentT } from "../../../server/src/physics/student-t.ts";
import { type AccuracyPart, limitOfError } from "../../../server/src/shop/shop.ts";
import { readUnit } from "../../../server/src/units/index.ts";
import { call, inSI } from "../call.ts";
import { firstOrderUncertainty, noteUncertainty, noteValue } from "./note-value.ts";
import { both, each, input, leftOut, type Plan, type Plans, type Row, run, wider } from "./plan.ts";

const UNCERTAINTY = "uncertainty";
const FIVE = [13.98, 14.02, 14.01, 13.97, 14.04].map((v) => inSI(v, "inH2O"));

/** `± a` is read as a limit, so a standard uncertainty is written as √3 times itself. */
const limits = (standard: number): string => (standard * Math.sqrt(3)).toPrecision(14);

/** JCGM 100:2008, example H.1, as a note: end gauge by comparison. */
const END_GAUGE = [
  `standard: 50.000623 mm ± ${limits(25e-6)}`,
  `d: 215 nm ± ${limits(9.7)}`,
  `expansion: 11.5 ppm/K ± ${limits(1.2)}`,
  `theta: -0.1 K ± ${limits(0.41)}`,
  `expansion difference: 0 ppm/K ± ${limits(0.58)}`,
  `temperature difference: 0 K ± ${limits(0.029)}`,
  "x [nm] = standard + d - standard * (expansion difference * theta + expansion * temperature difference)",
].join("\n");

/** An instrument with this accuracy over this range and step. */
function halfWidth(
  accuracy: readonly AccuracyPart[],
  unit: string,
  high: number,
  reading: number,
  resolution = 0,
): number {
  const read = readUnit(unit);
  if (!read.ok) throw new Error(`unit ${unit}`);
  const instrument = {
    id: "t",
    measures: read.unit.dimension,
    unit: read.unit,
    low: 0,
    high: inSI(high, unit),
    resolution: inSI(resolution, unit),
    accuracy,
    range: { from: 0, to: 0 },
  };
  return limitOfError(instrument, inSI(reading, unit)) ?? Number.NaN;
}

const meter = (): number =>
  halfWidth(
    [
      { kind: "of reading", fraction: 0.005 },
      { kind: "digits", count: 2 },
    ],
    "V",
    60,
    12.6,
    0.01,
  );

const rounded = (value: number, figures: number): number =>
  Number(roundHalfEven(value, decimalsFor(value, figures)));

const rounding: Plan = run("rounding", (row) => rounded(input(row, "x"), input(row, "n")));

export const measuringPlans: Plans = {
  M001: run(UNCERTAINTY, () => noteValue(END_GAUGE)),
  M002: run(UNCERTAINTY, () => firstOrderUncertainty(END_GAUGE)),
  M003: run(UNCERTAINTY, () =>
    noteUncertainty(`t: 0 K ± ${limits(0.029)}\nx [nm] = 50.000623 mm * 11.5 ppm/K * t`),
  ),
  M004: run(UNCERTAINTY, () =>
    noteUncertainty(`a: 0 ppm/K ± ${limits(0.58)}\nx [nm] = 50.000623 mm * -0.1 K * a`),
  ),
  M005: leftOut("effective degrees of freedom are not worked out; k = 2 is used, widened for few readings"),
  M006: run("Student's t", (row) => studentT(input(row, "p"), input(row, "nu"))),
  M007: run("Student's t", () => studentT(0.99, 16) * firstOrderUncertainty(END_GAUGE)),
  M008: run("Student's t", (row) => studentT(input(row, "p"), input(row, "nu"))),
  M010: run(UNCERTAINTY, () => noteUncertainty("x: 5 V ± 1 V")),
  M011: run(
    "instrument accuracy",
    () => halfWidth([{ kind: "of full scale", fraction: 0.01 }], "psi", 100, 50) / Math.sqrt(3),
  ),
  M012: run(["instrument accuracy", "full scale error"], (row) => {
    const a = call("full scale error", { range: input(row, "FS"), accuracy: input(row, "acc") });
    const same = halfWidth([{ kind: "of full scale", fraction: 0.02 }], "psi", 30, 0.5);
    return both(a, same) / input(row, "reading");
  }),
  M013: run("full scale error", (row) => {
    const a = call("full scale error", { range: input(row, "FS"), accuracy: input(row, "acc") });
    return a / input(row, "reading");
  }),
  M014: run("instrument accuracy", meter),
  M015: run("instrument accuracy", () => meter() / Math.sqrt(3)),
  M016: run(UNCERTAINTY, () => noteUncertainty("x: 12.60 V")),
  M017: run(UNCERTAINTY, () => noteUncertainty("x: 3.125 mm")),
  M019: run(UNCERTAINTY, () =>
    noteUncertainty(
      [0.00033, 0.00029, 0.00025].map((u, i) => `part ${i}: 1 mm ± ${limits(u)}`).join("\n") +
        "\nx [mm] = part 0 + part 1 + part 2",
    ),
  ),
  M020: run(UNCERTAINTY, (row) => {
    const written = `a: 1 mm ± ${limits(input(row, "uc") * 1000)}\nx [mm] = a`;
    return 2 * noteUncertainty(written);
  }),
  M021: run("mean", () => call("mean", { readings: FIVE })),
  M022: run("spread", () => call("spread", { readings: FIVE })),
  M023: run(
    ["spread", "count"],
    () => call("spread", { readings: FIVE }) / Math.sqrt(call("count", { readings: FIVE })),
  ),
  M024: run([UNCERTAINTY, "decay leak rate"], () => {
    const note = [
      `volume: 50 L ± ${limits(1)}`,
      `start: 14 inH2O ± ${limits(0.05)}`,
      `end: 8 inH2O ± ${limits(0.05)}`,
      `time: 120 s ± ${limits(0.5)}`,
      "x [Pa.m3/s] = decay leak rate(volume, start, end, time)",
    ].join("\n");
    return noteUncertainty(note) / noteValue(note);
  }),
  ...each(["M025", "M026", "M028", "M029", "M031"], rounding),
  M030: run("rounding", () =>
    Number(
      roundHalfEven(
        [142.6, 21.12, 1.456, 0.0357, 0.00612].reduce((a, b) => a + b),
        1,
      ),
    ),
  ),
  M032: leftOut("a rule on intermediate values; the checker rounds only what it shows"),
  M033: run(UNCERTAINTY, () => noteUncertainty("x: 16.52 ppm/K ± 0.4")),
};

const psi = (): number => inSI(1, "psi");
const inchOfWater = (column: string) => (): number => inSI(1, `inH2O(${column})`);
const OTHER_DIGITS = "that program's own constant has fewer or other digits";

export const oraclePlans: Plans = {
  X001: run("units", psi),
  X002: run("saturation pressure", (row: Row) =>
    call("saturation pressure", { temperature: input(row, "T") }),
  ),
  X004: run(
    "saturation pressure",
    (row: Row) => call("saturation pressure", { temperature: input(row, "T") }),
    wider("rel", 5e-4, "IAPWS-IF97; the ASHRAE equation lies within 0.02 % of it"),
  ),
  X005: run("units", psi, wider("rel", 1e-9, OTHER_DIGITS)),
  X006: run("units", inchOfWater("4degC"), wider("rel", 1e-6, OTHER_DIGITS)),
  X007: run("units", inchOfWater("4degC"), wider("rel", 1e-6, OTHER_DIGITS)),
  X008: run("units", inchOfWater("60degF"), wider("rel", 1e-6, OTHER_DIGITS)),
  X009: run(UNCERTAINTY, () => firstOrderUncertainty(END_GAUGE)),
};
