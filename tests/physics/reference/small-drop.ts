/**
 * Rows for the incompressible formula, run through the compressible functions in the limit of small drops:
 * at a millionth of the pressure drop the flow is a thousandth and the expansion plays no part.
 */
import { AMBIENT, call } from "../call.ts";
import { input, type Row } from "./plan.ts";

/** Specific gas constant of air that the functions use, J/(kg·K); ISO 2533. */
export const R_AIR = 287.05287;
const SMALL = 1e-8;
const ROOT = 1e-4;

/** The temperature at which air at ambient pressure has the row's density. */
const temperatureFor = (row: Row): number => AMBIENT / (R_AIR * input(row, "rho"));

export const smallDropFlow = (row: Row): number =>
  call("orifice flow", {
    diameter: input(row, "d"),
    drop: SMALL * input(row, "dp"),
    upstream: AMBIENT,
    temperature: temperatureFor(row),
    discharge: input(row, "Cd"),
  }) / ROOT;

export const smallDropSize = (row: Row): number =>
  call("orifice size", {
    flow: ROOT * input(row, "Q"),
    drop: SMALL * input(row, "dp"),
    upstream: AMBIENT,
    temperature: temperatureFor(row),
    discharge: input(row, "Cd"),
  });

/** The emptying time falls with the root of the pressures. */
export const slowedBy = (row: Row): number =>
  call("decay time", {
    volume: input(row, "V"),
    diameter: input(row, "d"),
    start: SMALL * input(row, "p0"),
    end: SMALL * input(row, "p1"),
    temperature: temperatureFor(row),
    discharge: input(row, "Cd"),
    ambient: input(row, "p_atm"),
  }) / ROOT;
