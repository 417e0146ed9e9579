import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { criticalFlow, criticalRatio } from "../../server/src/physics/nozzle.ts";
import { AMBIENT, type Arguments, call, outcome, outside, refusal, remarks } from "./call.ts";

const INH2O = 249.08891;
const R_AIR = 287.05287;
const near = (got: number, wanted: number, relative: number): void =>
  expect(Math.abs(got - wanted)).toBeLessThanOrEqual(relative * Math.abs(wanted));

/** Volume flow at the upstream state by the textbook form of Saint-Venant and Wantzel, which cancels for small drops. */
function textbookFlow(diameter: number, drop: number, upstream: number, temperature: number): number {
  const gamma = 1.4;
  const ratio = Math.max((upstream - drop) / upstream, (2 / (gamma + 1)) ** (gamma / (gamma - 1)));
  const area = (Math.PI / 4) * diameter ** 2;
  const inside = ((2 * gamma) / (gamma - 1)) * (ratio ** (2 / gamma) - ratio ** ((gamma + 1) / gamma));
  return 0.6 * area * Math.sqrt(R_AIR * temperature * inside);
}

describe("orifice flow and orifice size", () => {
  it("agree with the textbook form of isentropic nozzle flow (Saint-Venant and Wantzel)", () => {
    for (const drop of [500, 3487, 20000, 60000, 300000]) {
      const upstream = AMBIENT + drop;
      near(
        call("orifice flow", { diameter: 1e-3, drop, temperature: 293.15 }),
        textbookFlow(1e-3, drop, upstream, 293.15),
        1e-11,
      );
    }
  });

  it("agree with Euler's equation integrated along the nozzle: speed from the work of expansion", () => {
    // Independent route: v² / 2 = ∫ dp / ρ along an isentrope, by Simpson's rule, then ρ₂ · v at the throat.
    const gamma = 1.4;
    const upstream = AMBIENT + 14 * INH2O;
    const density = upstream / (R_AIR * 293.15);
    const along = (p: number): number => density * (p / upstream) ** (1 / gamma);
    const n = 2000;
    const h = (upstream - AMBIENT) / n;
    let work = 0;
    for (let i = 0; i <= n; i++)
      work += (i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2) / along(AMBIENT + i * h);
    const speed = Math.sqrt(2 * ((work * h) / 3));
    const volumeFlow = (0.6 * (Math.PI / 4) * 0.000508 ** 2 * along(AMBIENT) * speed) / density;
    near(
      call("orifice flow", { diameter: 0.000508, drop: 14 * INH2O, temperature: 293.15 }),
      volumeFlow,
      1e-9,
    );
  });

  it("keep all digits for drops of a millionth of a pascal, where they equal the incompressible formula", () => {
    for (const drop of [1e-6, 1e-3, 1]) {
      const density = (AMBIENT + drop) / (R_AIR * 293.15);
      const incompressible = 0.6 * (Math.PI / 4) * 1e-6 * Math.sqrt((2 * drop) / density);
      // The first-order term of the expansion factor, 1 − 3·x/(4·γ).
      const expansion = 1 - (0.75 / 1.4) * (drop / AMBIENT);
      near(
        call("orifice flow", { diameter: 1e-3, drop, temperature: 293.15 }),
        incompressible * expansion,
        1e-10,
      );
    }
  });

  it("choke at 0.528 for air (Cengel and Cimbala, table 12-2) without a jump in value or slope", () => {
    near(criticalRatio(1.4), 0.5283, 1e-4);
    near(criticalFlow(1.4), 0.684731456, 1e-8);
    const upstream = 4e5;
    const at = upstream * (1 - criticalRatio(1.4));
    const flow = (drop: number): number => call("orifice flow", { diameter: 1e-3, drop, upstream });
    near(flow(at * (1 - 1e-9)), flow(at * (1 + 1e-9)), 1e-12);
    const slopeBelow = (flow(at) - flow(at * (1 - 1e-4))) / flow(at);
    expect(Math.abs(slopeBelow)).toBeLessThan(1e-7);
    expect(flow(at * 1.2)).toBe(flow(at * 1.5));
  });

  const conditions = fc.record({
    drop: fc.double({ min: 0.01, max: 8e5, noNaN: true }),
    temperature: fc.double({ min: 240, max: 350, noNaN: true }),
    discharge: fc.double({ min: 0.4, max: 1, noNaN: true }),
    gas: fc.constantFrom("air", "nitrogen", "carbon dioxide", "argon"),
  });

  it("are exact inverses of each other", () => {
    fc.assert(
      fc.property(conditions, fc.double({ min: 1e-6, max: 0.1, noNaN: true }), (at, diameter) => {
        const flow = call("orifice flow", { ...at, diameter });
        near(call("orifice size", { ...at, flow }), diameter, 1e-12);
      }),
    );
  });

  it("rise with the drop, the hole and the coefficient", () => {
    fc.assert(
      fc.property(conditions, fc.double({ min: 1.001, max: 3, noNaN: true }), (at, factor) => {
        const upstream = 1e6;
        const flow = (change: Arguments): number =>
          call("orifice flow", { ...at, upstream, diameter: 1e-3, ...change });
        const base = flow({});
        expect(flow({ diameter: 1e-3 * factor })).toBeGreaterThan(base);
        expect(flow({ discharge: at.discharge * factor })).toBeGreaterThan(base);
        expect(flow({ drop: Math.min(at.drop * factor, upstream) })).toBeGreaterThanOrEqual(base);
      }),
    );
  });

  it("take ambient pressure plus the drop where `upstream` is left out", () => {
    const args = { diameter: 1e-3, drop: 5000, ambient: 95000 };
    expect(call("orifice flow", args)).toBe(call("orifice flow", { ...args, upstream: 100000 }));
  });

  it("give nothing at no drop, and no size", () => {
    const none = outcome("orifice flow", { diameter: 1e-3, drop: 0 });
    expect(none.ok && none.value.v).toBe(0);
    expect(none.ok && none.value.d.every(Number.isFinite)).toBe(true);
    expect(outside("orifice flow", { diameter: 1e-3, drop: 0 })[0]).toMatch(/no pressure drop/);
    expect(refusal("orifice size", { flow: 1e-5, drop: 0 })).toMatch(/no pressure drop/i);
    expect(refusal("orifice size", { flow: 0, drop: 1000 })).toMatch(/smallest flow/);
  });

  it("say what is wrong with impossible numbers", () => {
    expect(refusal("orifice flow", { diameter: 1e-3, drop: -5 })).toMatch(/vacuum/);
    expect(refusal("orifice flow", { diameter: -1e-3, drop: 5 })).toMatch(/below zero/);
    expect(refusal("orifice flow", { diameter: 1e-3, drop: 2e5, upstream: 1e5 })).toMatch(/absolute/);
    expect(refusal("orifice size", { flow: -1, drop: 5 })).toMatch(/positive/);
  });

  it("warn of choked flow and of holes so small that friction counts", () => {
    expect(outside("orifice flow", { diameter: 1e-3, drop: 3e5 })[0]).toMatch(/choked/);
    expect(outside("orifice flow", { diameter: 1e-3, drop: 3e5, discharge: 0.8 })).toEqual([]);
    expect(outside("orifice flow", { diameter: 5e-5, drop: 14 * INH2O })[0]).toMatch(/friction/);
    expect(outside("orifice flow", { diameter: 5.08e-4, drop: 14 * INH2O })).toEqual([]);
  });
});

describe("decay tests", () => {
  it("decay time agrees with the mass balance stepped through time by Runge and Kutta's method", () => {
    const cases = [
      { volume: 0.05, diameter: 5.08e-4, start: 14 * INH2O, end: 8 * INH2O },
      { volume: 0.05, diameter: 1e-3, start: 3e5, end: 2e4 },
      { volume: 0.05, diameter: 1e-3, start: 3e5, end: 2e5 },
    ];
    for (const args of cases) {
      const rate = (gauge: number): number =>
        (-textbookFlow(args.diameter, gauge, gauge + AMBIENT, 293.15) * (gauge + AMBIENT)) / args.volume;
      const whole = call("decay time", args);
      const steps = 20000;
      const h = whole / steps;
      let gauge = args.start;
      for (let i = 0; i < steps; i++) {
        const k1 = rate(gauge);
        const k2 = rate(gauge + (h * k1) / 2);
        const k3 = rate(gauge + (h * k2) / 2);
        const k4 = rate(gauge + h * k3);
        gauge += (h * (k1 + 2 * k2 + 2 * k3 + k4)) / 6;
      }
      near(gauge, args.end, 1e-8);
    }
  });

  it("decay time and decay leak rate tell the same story", () => {
    // The mean throughput over a short fall equals the hole's throughput in the middle of it.
    const args = { volume: 0.05, diameter: 5.08e-4, start: 3500, end: 3480 };
    const time = call("decay time", args);
    const rate = call("decay leak rate", { volume: 0.05, start: 3500, end: 3480, time });
    const flow = call("orifice flow", { diameter: 5.08e-4, drop: 3490 });
    near(rate, flow * (AMBIENT + 3490), 1e-5);
  });

  it("decay times add up", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 10, max: 1e5, noNaN: true }),
        fc.double({ min: 1.01, max: 5, noNaN: true }),
        fc.double({ min: 1.01, max: 5, noNaN: true }),
        (end, up, further) => {
          const time = (from: number, to: number): number =>
            call("decay time", { volume: 0.01, diameter: 1e-3, start: from, end: to });
          const middle = end * up;
          const start = middle * further;
          near(time(start, middle) + time(middle, end), time(start, end), 1e-8);
        },
      ),
    );
  });

  it("a decay test without temperatures says that one kelvin costs 1.4 inH2O (trap, reference rows L015 to L017)", () => {
    const args = { volume: 5e-3, start: 14 * INH2O, end: 12.5 * INH2O, time: 300 };
    expect(remarks("decay leak rate", args)[0]).toMatch(/1\.4 inH2O.*twenty times/);
    const both = { ...args, "start temperature": 295.15, "end temperature": 294.15 };
    expect(remarks("decay leak rate", both)).toEqual([]);
    near(call("decay leak rate", args) / call("decay leak rate", both), 20.1, 0.01);
    expect(refusal("decay leak rate", { ...args, "start temperature": 295 })).toMatch(/or neither/);
  });

  it("a barometer that rises by 1 hPa fakes 0.40 inH2O (reference row L018)", () => {
    const args = { volume: 1, start: 3487, end: 3387, time: 1, "end ambient": AMBIENT + 100 };
    near(call("decay leak rate", args) + 1, 1, 1e-9);
  });

  it("say what is wrong, and when pressure rose or fell far (ASTM E2930-13(2021), 5.1)", () => {
    const args = { volume: 5e-3, start: 3487, end: 3113, time: 300 };
    expect(refusal("decay leak rate", { ...args, time: 0 })).toMatch(/time/);
    expect(refusal("decay leak rate", { ...args, volume: 0 })).toMatch(/volume/);
    expect(refusal("decay leak rate", { ...args, end: -2e5 })).toMatch(/vacuum/);
    expect(outside("decay leak rate", { ...args, end: 3600 })[0]).toMatch(/pressure rose/);
    expect(outside("decay leak rate", { ...args, start: 50000, end: 10000 })[0]).toMatch(/E2930/);
    expect(refusal("decay time", { volume: 1, diameter: 1e-3, start: 100, end: 0 })).toMatch(/above zero/);
    expect(refusal("decay time", { volume: 1, diameter: 1e-3, start: 100, end: 200 })).toMatch(
      /above the end/,
    );
    expect(refusal("decay time", { volume: 1, diameter: 0, start: 300, end: 200 })).toMatch(/diameter/);
  });
});

describe("sealed and vented volumes", () => {
  it("a capped housing warmed from 19.5 to 45 degC gains about 8.8 kPa (ideal gas)", () => {
    const gain = call("sealed pressure", { pressure: 0, temperature: 292.65, "new temperature": 318.15 });
    near(gain, (AMBIENT * 25.5) / 292.65, 1e-12);
    near(gain, 8800, 0.01);
  });

  it("warming and cooling back gives the first pressure again", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5e4, max: 5e5, noNaN: true }),
        fc.double({ min: 230, max: 400, noNaN: true }),
        fc.double({ min: 230, max: 400, noNaN: true }),
        (pressure, cold, warm) => {
          const there = call("sealed pressure", { pressure, temperature: cold, "new temperature": warm });
          const back = call("sealed pressure", {
            pressure: there,
            temperature: warm,
            "new temperature": cold,
          });
          expect(Math.abs(back - pressure)).toBeLessThan(1e-6);
        },
      ),
    );
  });

  it("breathing out is above zero, drawing in below (Charles's law)", () => {
    near(call("breathed volume", { volume: 5e-3, temperature: 300, "new temperature": 330 }), 5e-4, 1e-12);
    near(
      call("breathed volume", { volume: 5e-3, temperature: 330, "new temperature": 300 }),
      -5e-3 / 11,
      1e-12,
    );
  });

  it("fill time equals its integral, and joins the tight case without a seam", () => {
    const args = { volume: 0.05, flow: 1.6e-4, pressure: 3487 };
    const tight = call("fill time", args);
    near(tight, (0.05 * 3487) / (AMBIENT * 1.6e-4), 1e-12);
    for (const share of [1e-9, 0.01, 0.0999999, 0.1000001, 0.5, 0.95]) {
      // Simpson's rule over u = √(p / pressure): time = 2 · tight · ∫ u / (1 − share · u) du.
      const n = 4000;
      let total = 0;
      for (let i = 0; i <= n; i++) {
        const u = i / n;
        total += ((i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2) * u) / (1 - share * u);
      }
      near(call("fill time", { ...args, leak: share * 1.6e-4 }), (2 * tight * total) / (3 * n), 1e-8);
    }
    expect(refusal("fill time", { ...args, leak: 1.6e-4 })).toMatch(/never reached/);
    expect(remarks("fill time", { ...args, volume: 0.001 })[0]).toMatch(/throttle/);
  });

  it("force on a lens says the weight that it equals", () => {
    expect(remarks("force on", { pressure: 98.0665, area: 1 })[0]).toMatch(/weight of 10 kg/);
    expect(refusal("force on", { pressure: 1, area: -1 })).toMatch(/area/);
  });
});

describe("leak amounts", () => {
  it("`standard` of 0 and of 20 degC are 7 % apart, and the reference is named (trap)", () => {
    const args = { "leak rate": 1e-3, temperature: 293.15 };
    near(
      call("standard flow", { ...args, reference: 293.15 }) / call("standard flow", args),
      1.07321984,
      1e-8,
    );
    expect(remarks("standard flow", args)[0]).toMatch(/101\.325 kPa and 0 degC/);
    expect(remarks("standard flow", { "leak rate": 1e-3 })[1]).toMatch(/20 degC/);
  });

  it("no bubbles is weak evidence (Laplace pressure, reference row N016: 84 µm at 14 inH2O)", () => {
    expect((4 * 0.073) / (14 * INH2O)).toBeCloseTo(83.7e-6, 7);
    expect(outside("bubble leak rate", { diameter: 3e-3, count: 0, time: 60 })[0]).toMatch(/weak evidence/);
  });

  it("refuses impossible counts, times and depths", () => {
    expect(refusal("bubble leak rate", { diameter: 3e-3, count: 5, time: 0 })).toMatch(/time/);
    expect(refusal("bubble leak rate", { diameter: 3e-3, count: -5, time: 1 })).toMatch(/below zero/);
    expect(refusal("depth pressure", { depth: -1 })).toMatch(/depth/);
  });
});
