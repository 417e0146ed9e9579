import { describe, expect, test } from "vitest";
import { deviation, dewPoint, flowPerArea, KELVIN, mean, si, standardAmbient } from "./independent.ts";
import { quantityOf, readSamples } from "./read-samples.ts";

/**
 * Expanded uncertainties (k = 2) of values of every kind in the samples, worked out by hand as JCGM 100:2008
 * lays down, or by a small Monte Carlo run (JCGM 101:2008) where the formula bends.
 */
const samples = readSamples();

function shown(name: string, key: string): { value: number; uncertainty: number } {
  const sample = samples.find((one) => one.name === name);
  const value = sample?.analysis.values.find((one) => one.key === key);
  const quantity = value && quantityOf(value);
  return { value: quantity?.value ?? Number.NaN, uncertainty: quantity?.uncertainty ?? Number.NaN };
}

/** A limit of error as a rectangle: a/√3 (4.3.7). */
const limit = (halfWidth: number): number => halfWidth / Math.sqrt(3);
/** The step of a display: q/√12 (F.2.2.1). */
const step = (size: number): number => size / Math.sqrt(12);
/** Standard uncertainties put together, doubled. */
const expanded = (...parts: readonly number[]): number => 2 * Math.hypot(...parts);

/** t for 95 % two-sided by degrees of freedom (JCGM 100:2008, table G.2, with the digits of its source). */
const T95: Readonly<Record<number, number>> = { 2: 4.302653, 3: 3.182446, 4: 2.776445 };
/** Type A part of a mean, widened so that k = 2 holds for few readings. */
const scatter = (values: readonly number[]): number =>
  (deviation(values) / Math.sqrt(values.length)) * Math.max(1, (T95[values.length - 1] ?? Number.NaN) / 2);

/** Repeatable draws between −1 and 1 (multiplicative congruential generator of Park and Miller). */
function rectangle(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return (2 * state) / 2147483647 - 1;
  };
}
const drawn = (count: number, draw: () => number): number =>
  2 * deviation(Array.from({ length: count }, () => draw()));

describe("worked out by hand", () => {
  test("force on the lens: gauge 1 % of 2 psi, area ± 10 cm²", () => {
    const force = shown("rear-lamp.md", "lens force");
    const relative = expanded(limit(0.02) / 0.8, limit(10) / 310);
    expect(force.uncertainty).toBeCloseTo(force.value * relative, 6);
  });

  test("fall between two readings of one manometer, 0.25 % of 30 inH2O: no correlation is the cautious case", () => {
    const lost = shown("fuel-vapour-van.md", "retest lost");
    expect(lost.uncertainty).toBeCloseTo(expanded(limit(0.075), limit(0.075)), 6);
  });

  test("mean of five readings: accuracy, resolution and scatter", () => {
    const pressure = shown("two-testers-bench.md", "a mean pressure");
    const own = scatter([12.4, 12.5, 12.4, 12.6, 12.5]);
    expect(pressure.uncertainty).toBeCloseTo(expanded(limit(0.075), step(0.1), own), 6);
  });

  test("leak rate of a decay test, by its six partial derivatives", () => {
    const leak = shown("fuel-vapour-van.md", "leak before");
    const [volume, seconds, kelvin, ambient] = [0.038, 120, 18.4 + KELVIN, 98_600];
    const [start, end, error] = [si("13.2 inH2O"), si("8.1 inH2O"), limit(si("0.075 inH2O"))];
    const rate = volume / seconds;
    const value = rate * (start - end);
    const byKelvin = (rate * (end + ambient)) / kelvin;
    const parts = [
      (value / volume) * limit(0.004),
      (value / seconds) * limit(1),
      rate * error,
      rate * error,
      byKelvin * limit(0.1),
      byKelvin * limit(0.1),
    ];
    expect(leak.uncertainty).toBeCloseTo(expanded(...parts), 6);
  });

  test("running time: three clamp readings, exponent 1.2 ± 0.1", () => {
    const time = shown("two-testers-bench.md", "b running time");
    const currents = [9.1, 9.3, 9.2];
    const current = mean(currents);
    const byCurrent = (1.2 * time.value) / current;
    const byExponent = time.value * Math.log(70 / (current * 20));
    const clamp = limit(0.02 * current + 3 * 0.1);
    const parts = [
      byCurrent * clamp,
      byCurrent * step(0.1),
      byCurrent * scatter(currents),
      byExponent * limit(0.1),
    ];
    expect(time.uncertainty).toBeCloseTo(expanded(...parts), 6);
  });

  test("voltage lost in the wire: current, length, temperature", () => {
    const drop = shown("trailer-lamps-dim.md", "wire alone");
    const currents = [8.4, 8.6, 8.5, 8.5];
    const current = mean(currents);
    const shares = [
      limit(0.02 * current + 3 * 0.1) / current,
      step(0.1) / current,
      scatter(currents) / current,
      limit(0.2) / 7.2,
      (0.00393 * limit(0.5)) / (1 + 0.00393 * 4),
    ];
    expect(drop.uncertainty).toBeCloseTo(drop.value * expanded(...shares), 6);
  });

  test("slope of a logged series: standard error (H.3.3) and resolution", () => {
    const slope = shown("coolant-loss-tractor.md", "fall per minute");
    const [t, p] = [
      [0, 3, 6, 9, 12, 15],
      [14, 13.7, 13.4, 13.2, 12.9, 12.6],
    ];
    const squares = t.reduce((sum, x) => sum + (x - mean(t)) ** 2, 0);
    const rest = p.reduce((sum, y, i) => {
      const line = mean(p) + slope.value * ((t[i] ?? 0) - mean(t));
      return sum + (y - line) ** 2;
    }, 0);
    const error = (Math.sqrt(rest / (t.length - 2)) / Math.sqrt(squares)) * ((T95[4] ?? 0) / 2);
    expect(slope.uncertainty).toBeCloseTo(expanded(error, step(0.1) / Math.sqrt(squares)), 6);
  });

  test("pressure from a sensor's signal: voltmeter 0.5 % and two digits", () => {
    const pressure = shown("whistle-at-idle-van.md", "manifold pressure");
    const volt = limit(0.005 * 1.54 + 2 * 0.01);
    expect(pressure.uncertainty).toBeCloseTo(expanded((volt * 90) / 4), 6);
  });

  test("concentrate for a mix, a formula of the shop's own: volume ± 0.5 L, share ± 2 points", () => {
    const jugs = shown("coolant-loss-tractor.md", "concentrate");
    const [volume, now, wanted, jug] = [18.5, 0.41, 0.5, 2.5];
    const byVolume = (wanted - now) / (1 - now) / jug;
    const byShare = (-volume * (1 - wanted)) / (1 - now) ** 2 / jug;
    expect(jugs.value).toBeCloseTo(volume * byVolume, 9);
    expect(jugs.uncertainty).toBeCloseTo(expanded(byVolume * limit(0.5), byShare * limit(0.02)), 9);
  });

  test("days to half: the capacity's last digit and the clamp", () => {
    const days = shown("flat-battery-van.md", "days to half");
    const relative = expanded(step(1) / 95, limit(0.01 * 214.6 + 5 * 0.1) / 214.6);
    expect(days.uncertainty).toBeCloseTo(days.value * relative, 6);
  });
});

describe("drawn at random", () => {
  test("dew point: thermometer ± 0.5 K, hygrometer ± 3 points", () => {
    const draw = rectangle(20310304);
    const spread = drawn(5000, () => dewPoint(19.5 + 0.5 * draw(), 0.61 + 0.03 * draw()));
    const { uncertainty } = shown("rear-lamp.md", "bay dew point");
    expect(Math.abs(uncertainty / spread - 1)).toBeLessThan(0.05);
  });

  test("size of a hole: flow, pressure, gas temperature 20 ± 10 °C and the discharge coefficient 0.6 ± 0.1", () => {
    const draw = rectangle(20310305);
    const spread = drawn(5000, () => {
      const drop = si("1 psi") * (0.8 + 0.02 * draw());
      const hole = {
        drop,
        upstream: standardAmbient(240) + drop,
        kelvin: 293.15 + 10 * draw(),
        discharge: 0.6 + 0.1 * draw(),
      };
      const flow = (0.42 + 0.02 * draw()) / 60_000;
      return 1000 * Math.sqrt((4 * flow) / (Math.PI * flowPerArea(hole)));
    });
    const { uncertainty } = shown("rear-lamp.md", "leak size");
    expect(Math.abs(uncertainty / spread - 1)).toBeLessThan(0.05);
  });
});
