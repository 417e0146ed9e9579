/** One or more ordinary calls of every function, in SI units, for checks that run over all of them. */
import type { Arguments } from "./call.ts";

const C = 273.15;
const INH2O = 249.08891;

export const sampleCalls: ReadonlyMap<string, readonly Arguments[]> = new Map<string, readonly Arguments[]>([
  [
    "orifice flow",
    [
      { diameter: 5.08e-4, drop: 14 * INH2O },
      { diameter: 1e-3, drop: 50, upstream: 1.1e5, temperature: 300, gas: "argon", discharge: 0.7 },
      { diameter: 1e-3, drop: 3e5, gas: "carbon dioxide" },
    ],
  ],
  [
    "orifice size",
    [
      { flow: 7e-6, drop: 5516 },
      { flow: 7e-6, drop: 900, upstream: 1.1e5, temperature: 290, gas: "nitrogen" },
      { flow: 1e-3, drop: 3e5, upstream: 4.1e5 },
    ],
  ],
  [
    "decay leak rate",
    [
      { volume: 5e-3, start: 3487, end: 3113, time: 300 },
      {
        volume: 5e-3,
        start: 3487,
        end: 3113,
        time: 300,
        "start temperature": 295.15,
        "end temperature": 294.15,
        "start ambient": 101325,
        "end ambient": 101225,
      },
    ],
  ],
  [
    "decay time",
    [
      { volume: 0.05, diameter: 5.08e-4, start: 3487, end: 1993 },
      { volume: 0.05, diameter: 1e-3, start: 3e5, end: 5e4, gas: "nitrogen" },
      { volume: 0.05, diameter: 1e-3, start: 3e5, end: 2e5 },
    ],
  ],
  ["standard flow", [{ "leak rate": 3e-4 }, { "leak rate": 3e-4, temperature: 295, reference: 293.15 }]],
  ["bubble leak rate", [{ diameter: 3e-3, count: 20, time: 10 }]],
  ["depth pressure", [{ depth: 1 }, { depth: 0.3, liquid: "coolant" }]],
  [
    "fill time",
    [
      { volume: 0.05, flow: 1.6e-4, pressure: 3487 },
      { volume: 0.05, flow: 1.6e-4, pressure: 3487, leak: 1e-5 },
      { volume: 0.05, flow: 1.6e-4, pressure: 3487, leak: 1.2e-4 },
    ],
  ],
  ["breathed volume", [{ volume: 5e-3, temperature: 60 + C, "new temperature": 20 + C }]],
  [
    "sealed pressure",
    [
      { pressure: 3487, temperature: 295.15, "new temperature": 294.15 },
      { pressure: 0, temperature: 292, "new temperature": 318, ambient: 9.8e4, "new ambient": 9.9e4 },
    ],
  ],
  ["force on", [{ pressure: 5516, area: 0.031 }]],
  ["saturation pressure", [{ temperature: 298.15 }, { temperature: 260 }]],
  [
    "dew point",
    [
      { temperature: 298.15, humidity: 0.5 },
      { temperature: 270, humidity: 0.6 },
      { temperature: 280, humidity: 0.3 },
    ],
  ],
  [
    "relative humidity",
    [
      { temperature: 298.15, "dew point": 287 },
      { temperature: 275, "dew point": 265 },
    ],
  ],
  ["humidity ratio", [{ temperature: 298.15, humidity: 0.5 }]],
  ["water in air", [{ temperature: 293.15, humidity: 0.5 }]],
  [
    "wet bulb",
    [
      { temperature: 298.15, humidity: 0.5 },
      { temperature: 272, humidity: 0.4, ambient: 9e4 },
    ],
  ],
  ["dew margin", [{ "surface temperature": 283.15, temperature: 298.15, humidity: 0.5 }]],
  [
    "drying time",
    [
      { "water mass": 5e-3, "air flow": 1.7e-4, "inlet temperature": 318, "inlet humidity": 0.12 },
      {
        "water mass": 5e-3,
        "air flow": 1.7e-4,
        "inlet temperature": 293.15,
        "inlet humidity": 0.3,
        "outlet humidity": 0.5,
        "outlet temperature": 313.15,
      },
    ],
  ],
  [
    "water breathed",
    [{ volume: 5e-3, "low temperature": 283.15, "high temperature": 323.15, humidity: 0.9 }],
  ],
  [
    "charge state",
    [
      { "rest voltage": 12.35, temperature: 288 },
      { "rest voltage": 12.7, battery: "agm" },
    ],
  ],
  [
    "run time",
    [
      { capacity: 70 * 3600, current: 12, reserve: 0.4 },
      { capacity: 70 * 3600, current: 0.05 },
    ],
  ],
  ["reserve left", [{ capacity: 70 * 3600, current: 12, time: 5400 }]],
  ["draw per day", [{ current: 0.05 }]],
  ["wire resistance", [{ length: 3, section: 2.5e-6, temperature: 310 }]],
  ["wire drop", [{ current: 20, length: 5, gauge: 12, temperature: 348 }]],
  ["supply sag", [{ "open voltage": 12.6, current: 150, "internal resistance": 0.01 }]],
  [
    "bead volume",
    [
      { length: 1.2, width: 6e-3 },
      { length: 1.2, width: 6e-3, height: 3e-3 },
    ],
  ],
  ["tubes", [{ volume: 3.4e-5, "tube size": 3e-4 }]],
  ["skin time", [{ "sheet time": 600, temperature: 288, humidity: 0.4 }]],
  ["cure time", [{ depth: 5e-3 }, { depth: 5e-3, temperature: 288, humidity: 0.4 }]],
  ["scaled", [{ signal: 2.35, "low signal": 0.5, "high signal": 4.5, low: 250, high: 400 }]],
  ["full scale error", [{ range: 2e5, accuracy: 0.02 }]],
  ["difference", [{ first: 3500, second: 3460 }]],
  ["en number", [{ first: 3500, second: 3460, "first uncertainty": 40, "second uncertainty": 30 }]],
  ["mean", [{ readings: [9.1, 9.3, 9.2] }]],
  ["spread", [{ readings: [9.1, 9.3, 9.2] }]],
  ["least", [{ readings: [9.1, 9.3, 9.2] }]],
  ["greatest", [{ readings: [9.1, 9.3, 9.2] }]],
  ["count", [{ readings: [9.1, 9.3, 9.2] }]],
  ["span", [{ readings: [9.1, 9.3, 9.2] }]],
  ["slope", [{ values: [12, 11.4, 10.9, 10.3], against: [0, 60, 120, 180] }]],
  ["fit decay", [{ values: [8.1, 3.9, 2.05, 0.97], against: [0, 60, 120, 180] }]],
]);
