import type { Random } from "./random.ts";

/** Blocks of generated notes. All vehicles, people and values are invented. */

export const fenced = (info: string, lines: readonly string[]): string[] => [
  `\`\`\`${info}`,
  ...lines,
  "```",
];

const TEST_PRESSURES = {
  psi: { low: 0.4, high: 0.9, places: 2 },
  inH2O: { low: 10, high: 13.5, places: 1 },
  kPa: { low: 3, high: 6, places: 1 },
};

/** The reading that a procedure asks for beside the test pressure. */
const OWN_READINGS: Readonly<Record<string, string>> = {
  "evap-leak": "medium: nitrogen",
  "cooling-pressure": "lowest marking: 15 psi",
  "key-off-draw": "draw after repair: 25 mA",
};

/** Fifteen readings of a leak test: what was read, and what follows from it. */
export function leakReadings(
  random: Random,
  pressureUnit: keyof typeof TEST_PRESSURES,
  procedure: string,
): string[] {
  const { low, high, places } = TEST_PRESSURES[pressureUnit];
  const current = random.whole(80, 120) / 10;
  const near = (): string => (current + random.whole(-2, 2) / 10).toFixed(1);
  return [
    `test pressure: ${random.decimal(low, high, places)} ${pressureUnit} at 09:${random.whole(10, 59)}  # regulator outlet`,
    `flow: ${random.decimal(0.2, 0.9, 2)} L/min ± 0.02 L/min`,
    `lens area: ${random.whole(180, 420)} cm2`,
    "lens force [N] = force on(test pressure, lens area)",
    "leak size [mm] = orifice size(flow, drop: test pressure)",
    "flow at half pressure [L/min] = orifice flow(leak size, drop: test pressure / 2)",
    `bay temperature: ${random.decimal(16, 24, 1)} degC`,
    `bay humidity: ${random.whole(35, 70)} %`,
    "dew point [degC] = dew point(bay temperature, bay humidity)",
    `supply current: ${near()}, ${near()}, ${near()}, ${near()} A`,
    "mean current [A] = mean(supply current)",
    "current spread [A] = spread(supply current)",
    `lead length: ${random.decimal(2, 6, 1)} m`,
    `lead drop [V] = wire drop(mean current, lead length, section: ${random.pick(["2.5", "4", "6"])} mm2)`,
    OWN_READINGS[procedure] ?? `housing volume: ${random.decimal(0.8, 3.2, 1)} L`,
  ];
}

/** Twelve readings of a second look, under names of their own. */
export function secondReadings(random: Random): string[] {
  return [
    `battery capacity: ${random.pick(["44", "60", "72", "95"])} A.h`,
    `draw: ${random.decimal(0.6, 4.5, 2)} A`,
    "time left [h] = run time(battery capacity, draw)",
    `signal: ${random.decimal(1.2, 4.2, 2)} V`,
    "sensor pressure [kPa] = scaled(signal, low signal: 0.5 V, high signal: 4.5 V, low: 0 kPa, high: 250 kPa)",
    `start pressure: ${random.decimal(3.0, 3.6, 2)} kPa`,
    `warm bay: ${random.decimal(24, 30, 1)} degC`,
    `cold bay: ${random.decimal(12, 18, 1)} degC`,
    "pressure when cold [kPa] = sealed pressure(start pressure, warm bay, cold bay)",
    `lens inside: ${random.decimal(6, 11, 1)} degC`,
    "inside humidity [%] = relative humidity(warm bay, dew point: lens inside)",
    "warm margin [K] = warm bay - lens inside",
  ];
}

/** Mistakes as they happen at the bench: a comma for a point, a name or unit mistyped, a result gone stale. */
const MISTAKES: readonly [RegExp, string][] = [
  [/^(test pressure: \d+)\./m, "$1,"],
  [/(force on\()test pressure/, "$1test presure"],
  [/(flow: [\d.]+) L\/min/, "$1 L/mn"],
  [/^(mean current .*)$/m, "$1  ≈ 3 A"],
  [/^(battery capacity: \d+) A\.h/m, "$1 V"],
];

export function withMistake(random: Random, note: string): string {
  const [find, replacement] = MISTAKES[random.whole(0, MISTAKES.length - 1)] ?? [/^$/, ""];
  return note.replace(find, replacement);
}

/** A logged decay of so many rows. */
export function decayRows(random: Random, rows: number): string[] {
  const lines = ["time [s], p [inH2O], T [degC]"];
  let pressure = random.whole(110, 130) / 10;
  const loss = 0.01 + random.next() * 0.04;
  for (let row = 0; row < rows; row++) {
    lines.push(`${row * 30}, ${pressure.toFixed(2)}, ${random.decimal(19.2, 19.8, 1)}`);
    pressure -= pressure * loss;
  }
  return lines;
}

/** Step words of a procedure in a workable order, with remarks; `general` has no order to keep. */
const HISTORIES: Readonly<Record<string, readonly string[]>> = {
  "lamp-moisture": [
    "assess: droplets",
    "isolate power: key off, connector off",
    "block vents: 2 of 2 capped",
    "pressurize: smoke, 0.6 psi",
    "locate [lower seam]: found, bubbles confirm",
    "relieve pressure",
    "unblock vents",
    "drain",
    "dry: fan, 40 degC",
    "inspect: pass, no droplets after cooling",
    "clean [lower seam]",
    "seal [lower seam]: flowable silicone",
  ],
  "evap-leak": [
    "make safe: bay ventilated, engine cool",
    "inspect: none, no liquid fuel",
    "connect: nitrogen",
    "close vent",
    "pressurize: nitrogen, 12 inH2O",
    "locate [purge line]: found",
    "relieve pressure",
    "replace [purge line]",
    "pressurize: nitrogen, 12 inH2O",
    "retest: pass",
    "relieve pressure",
    "open vent",
  ],
  "cooling-pressure": [
    "confirm cold: pass, engine off since yesterday",
    "open cap",
    "fill",
    "test cap: pass",
    "fit tester",
    "pressurize: 14 psi",
    "locate [lower hose]: found, drip at the clamp",
    "relieve pressure",
    "drain",
    "replace [lower hose]",
    "fill",
    "bleed",
  ],
  "key-off-draw": [
    "test battery: pass",
    "prepare: key off and away",
    "connect meter: clamp, zeroed",
    "wait: 30 min, steady",
    "measure: 85 mA",
    "fuse drops: found, radio circuit",
    "pull fuse",
    "refit fuse",
    "wait: 30 min, steady",
    "remeasure: pass, 25 mA",
    "remove meter",
    "function check: pass",
  ],
  general: [
    "assess: none",
    "read codes",
    "inspect [wiring]: pass",
    "measure: rest voltage 12.5 V",
    "clean [ground point]",
    "repair [clamp]",
    "photo",
    "wait: 10 min",
    "function check: pass",
    "note: driver told",
    "tidy up",
    "call customer",
  ],
};

export const PROCEDURES = [
  "lamp-moisture",
  "evap-leak",
  "cooling-pressure",
  "key-off-draw",
  "general",
] as const;

/** The steps of one day; `done` of them carry a time, the rest are still to do. */
export function stepLines(random: Random, procedure: string, day: string, done: number): string[] {
  const lines = [day];
  let minutes = 8 * 60 + random.whole(0, 30);
  (HISTORIES[procedure] ?? []).forEach((step, index) => {
    const clock = `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;
    lines.push(`${index < done ? clock : "--:--"}  ${step}`);
    minutes += random.whole(4, 14);
  });
  return lines;
}
