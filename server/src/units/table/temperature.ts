import { TEMPERATURE } from "../dimension.ts";
import { NIST_811, SI_BROCHURE, type UnitEntry } from "../unit-entry.ts";

/** Kelvin per degree Fahrenheit, exact. */
const FAHRENHEIT_STEP = 5 / 9;

export const TEMPERATURE_UNITS: readonly UnitEntry[] = [
  {
    symbol: "degC",
    aliases: ["°C", "℃", "deg C", "deg.C"],
    ucum: ["Cel"],
    words: ["celsius", "Celsius"],
    name: "degree Celsius",
    dimension: TEMPERATURE,
    factor: 1,
    offset: 273.15,
    nature: "point",
    source: SI_BROCHURE,
  },
  {
    symbol: "degF",
    aliases: ["°F", "℉", "deg F", "deg.F"],
    ucum: ["[degF]"],
    words: ["fahrenheit", "Fahrenheit"],
    name: "degree Fahrenheit",
    dimension: TEMPERATURE,
    factor: FAHRENHEIT_STEP,
    offset: 459.67 * FAHRENHEIT_STEP,
    nature: "point",
    source: NIST_811,
  },
  {
    symbol: "K",
    ucum: ["K"],
    words: ["kelvin", "kelvins"],
    name: "kelvin",
    dimension: TEMPERATURE,
    factor: 1,
    nature: "kelvin",
    prefixes: ["µ", "m"],
    source: SI_BROCHURE,
  },
  {
    symbol: "delta degC",
    aliases: ["delta_degC", "delta °C", "delta deg C", "ΔdegC", "Δ°C", "Δ degC", "Δ °C", "delta K", "ΔK"],
    name: "temperature difference in degrees Celsius",
    dimension: TEMPERATURE,
    factor: 1,
    nature: "difference",
    source: SI_BROCHURE,
  },
  {
    symbol: "delta degF",
    aliases: ["delta_degF", "delta °F", "delta deg F", "ΔdegF", "Δ°F", "Δ degF", "Δ °F"],
    name: "temperature difference in degrees Fahrenheit",
    dimension: TEMPERATURE,
    factor: FAHRENHEIT_STEP,
    nature: "difference",
    source: NIST_811,
  },
];
