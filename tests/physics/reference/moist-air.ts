/** Rows H: moist air. */
import { standardPressure } from "../../../server/src/physics/atmosphere.ts";
import { constant } from "../../../server/src/physics/dual.ts";
import * as moist from "../../../server/src/physics/psychrometrics.ts";
import { saturationTemperature } from "../../../server/src/physics/saturation.ts";
import { AMBIENT, call } from "../call.ts";
import { noteValue } from "./note-value.ts";
import { both, each, input, leftOut, type Plans, type Row, run, wider } from "./plan.ts";

const ids = (...numbers: readonly number[]): readonly string[] =>
  numbers.map((n) => `H${String(n).padStart(3, "0")}`);

const saturation = (row: Row): number => call("saturation pressure", { temperature: input(row, "T") });

/** Humidity ratio of the air of ASHRAE's example 1, from its wet bulb. */
const exampleRatio = (row: Row): number =>
  moist.ratioFromWetBulb(constant(input(row, "T")), constant(input(row, "Twb")), constant(input(row, "p"))).v;
/** Vapour pressure at a humidity ratio (ASHRAE 2017, chapter 1, equation 20 turned round). */
const vapour = (ratio: number, pressure: number): number => (pressure * ratio) / (0.621945 + ratio);

/** Dry air that a flow carries, kg/s. */
const dryAir = (row: Row, temperature: string, humidity: string): number => {
  const t = input(row, temperature);
  const p = input(row, "p");
  const ratio = call("humidity ratio", { temperature: t, humidity: input(row, humidity), ambient: p });
  return input(row, "Q") / moist.specificVolume(constant(t), constant(ratio), constant(p)).v;
};

/** Time to carry off 5 g in the conditions of row H068. */
const timeForFiveGrams = (): number =>
  call("drying time", {
    "water mass": 5e-3,
    "air flow": 10 / 60000,
    "inlet temperature": 293.15,
    "inlet humidity": 0.3,
    "outlet humidity": 0.5,
    "outlet temperature": 313.15,
    ambient: AMBIENT,
  });

const latentHeat = (row: Row): number => {
  const t = constant(input(row, "T"));
  const vapourHeat = moist.enthalpy(t, constant(1)).v - moist.enthalpy(t, constant(0)).v;
  return 1000 * (vapourHeat - 4.186 * (t.v - 273.15));
};

const IDEAL = "the row holds for real steam; the functions take vapour as an ideal gas";

export const moistAirPlans: Plans = {
  ...each(
    ids(1, 2, 3, 4, 5, 6, 9, 10, 11, 12, 13, 14, 15, 17, 18, 19),
    run("saturation pressure", saturation),
  ),
  H008: run(["saturation pressure", "skin time"], (row) => {
    // Sealant skins over faster as the vapour pressure rises; at 25 degC it is 3.169 kPa (row H006).
    const sheet = { "sheet time": 600, "sheet temperature": 298.15, "sheet humidity": 0.5 };
    const skin = call("skin time", { ...sheet, temperature: input(row, "T"), humidity: 0.5 });
    return both(saturation(row), (3169 * 600) / skin, 2e-4);
  }),
  ...each(
    ids(20, 21, 22, 23),
    run("humidity ratio", (row) =>
      call("humidity ratio", { temperature: input(row, "T"), humidity: 1, ambient: input(row, "p") }),
    ),
  ),
  ...each(
    ids(24, 26, 27),
    run("ambient pressure by altitude", (row) => standardPressure(input(row, "z"))),
  ),
  H028: run("humidity ratio", (row) =>
    call("humidity ratio", {
      temperature: 298.15,
      humidity: input(row, "pv") / call("saturation pressure", { temperature: 298.15 }),
      ambient: input(row, "p"),
    }),
  ),
  H029: run("drying time", (row) => {
    const ratio = constant(input(row, "W"));
    const volume = moist.specificVolume(constant(input(row, "T")), ratio, constant(input(row, "p"))).v;
    return (1 + ratio.v) / volume;
  }),
  H030: run(
    "drying time",
    (row) => 1000 * moist.enthalpy(constant(input(row, "T")), constant(input(row, "W"))).v,
  ),
  H031: run("wet bulb", exampleRatio),
  H032: run(
    ["wet bulb", "dew point"],
    (row) => saturationTemperature(constant(vapour(exampleRatio(row), input(row, "p"))), 0).v,
  ),
  H033: run(
    ["wet bulb", "relative humidity"],
    (row) => vapour(exampleRatio(row), input(row, "p")) / saturation(row),
  ),
  ...each(
    ids(35, 36, 37, 38, 39, 40, 41, 42, 44, 45),
    run("dew point", (row) =>
      call("dew point", { temperature: input(row, "T"), humidity: input(row, "RH") }),
    ),
  ),
  ...each(
    ids(46, 47, 48, 49, 50, 51),
    run(
      "saturation pressure",
      saturation,
      wider("rel", 0.004, "another formula (Magnus), which lies up to 0.31 % low by the row's own note"),
    ),
  ),
  H053: run(
    "saturation pressure",
    saturation,
    wider("rel", 5e-4, "IAPWS-IF97; the ASHRAE equation lies within 0.02 % of it"),
  ),
  H054: leftOut("227 degC is beyond the ASHRAE equation, which ends at 200 degC"),
  ...each(
    ids(55, 56, 57, 58),
    run(
      "water in air",
      (row) => call("water in air", { temperature: input(row, "T"), humidity: 1 }),
      wider("rel", 0.005, IDEAL),
    ),
  ),
  ...each(
    ids(59, 60, 62, 63, 64),
    run("drying time", latentHeat, wider("rel", 0.002, "ASHRAE's straight-line enthalpies")),
  ),
  H065: run(["water in air", "water breathed"], (row) => {
    const t = input(row, "T");
    const held = call("water in air", { temperature: t, humidity: input(row, "RH") });
    // Cooling to half the absolute temperature draws in half the volume.
    const drawn = { volume: 2, "low temperature": t, "high temperature": 2 * t };
    return both(held, call("water breathed", { ...drawn, humidity: input(row, "RH") }));
  }),
  H066: run(
    "water in air",
    (row) => input(row, "V") * call("water in air", { temperature: input(row, "T"), humidity: 1 }),
    wider("rel", 0.003, IDEAL),
  ),
  H067: run("drying time", (row) => dryAir(row, "T", "RH")),
  H068: run("drying time", () => 5e-3 / timeForFiveGrams()),
  H069: run("drying time", timeForFiveGrams),
  H071: run("formula language", () => noteValue("x [kJ] = 5 g * 2441.7 kJ/kg")),
  H072: run(
    "dew margin",
    (row) =>
      -call("dew margin", {
        "surface temperature": input(row, "T_surf"),
        temperature: input(row, "T"),
        humidity: input(row, "RH"),
      }),
  ),
  H073: run(["dew point", "relative humidity"], (row) =>
    // The dew point stays while air is only warmed.
    call("relative humidity", {
      temperature: input(row, "T2"),
      "dew point": call("dew point", { temperature: input(row, "T1"), humidity: input(row, "RH1") }),
    }),
  ),
  H074: run("wet bulb", (row) =>
    call("wet bulb", { temperature: input(row, "T"), humidity: input(row, "RH"), ambient: input(row, "p") }),
  ),
};
