/** Electrical and sealing functions. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { restVoltage } from "../../server/src/physics/battery.ts";
import { call, outcome, outside, refusal, remarks } from "./call.ts";

const AH = 3600;
const near = (got: number, wanted: number, relative: number): void =>
  expect(Math.abs(got - wanted)).toBeLessThanOrEqual(relative * Math.abs(wanted));

describe("battery", () => {
  it("a 20-hour rating gives its rated current for 20 h by definition, whatever the exponent (trap)", () => {
    for (const exponent of [1, 1.1, 1.2, 1.4])
      near(call("run time", { capacity: 100 * AH, current: 5, exponent }), 20 * 3600, 1e-12);
    // The form C / I^k, which a published example uses on such a rating, says 14.5 h (reference row B030).
    near(100 / 5 ** 1.2, 14.4956, 1e-5);
  });

  it("never counts more than the rated capacity below the rated current", () => {
    near(call("run time", { capacity: 24 * AH, current: 0.05 }), 480 * 3600, 1e-12);
  });

  it("run time falls as the current rises, and joins at the rated current", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 60, noNaN: true }),
        fc.double({ min: 1.01, max: 3, noNaN: true }),
        (current, factor) => {
          const time = (amps: number): number => call("run time", { capacity: 60 * AH, current: amps });
          expect(time(current * factor)).toBeLessThan(time(current));
        },
      ),
    );
    const at = (current: number): number => call("run time", { capacity: 100 * AH, current });
    near(at(5 * (1 - 1e-9)), at(5 * (1 + 1e-9)), 1e-8);
  });

  it("run time and reserve left tell the same story", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 0.9, noNaN: true }), (reserve) => {
        const args = { capacity: 70 * AH, current: 12 };
        const time = call("run time", { ...args, reserve });
        near(call("reserve left", { ...args, time }), reserve, 1e-12);
      }),
    );
  });

  it("says that no reserve is kept, and warns of a battery that would be empty", () => {
    expect(remarks("run time", { capacity: 70 * AH, current: 12 })[0]).toMatch(/will not start/);
    expect(remarks("run time", { capacity: 70 * AH, current: 12, reserve: 0.6 })).toEqual([]);
    expect(outside("reserve left", { capacity: 10 * AH, current: 5, time: 4 * 3600 })[0]).toMatch(/empty/);
    expect(outside("run time", { capacity: 10 * AH, current: 20 })[0]).toMatch(/less than an hour/);
    expect(refusal("run time", { capacity: 10 * AH, current: 0 })).toMatch(/current/);
    expect(refusal("run time", { capacity: 10 * AH, current: 1, exponent: 0.9 })).toMatch(/Peukert/);
    expect(refusal("run time", { capacity: 10 * AH, current: 1, reserve: 1.2 })).toMatch(/reserve/);
  });

  it("charge state inverts the table of rest voltages", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.constantFrom("flooded" as const, "agm" as const),
        (charge, battery) => {
          const got = call("charge state", { "rest voltage": restVoltage(charge, battery), battery });
          expect(Math.abs(got - charge)).toBeLessThan(1e-12);
        },
      ),
    );
  });

  it("charge state carries what tables differ by, and knows surface charge and 24 V systems", () => {
    const result = outcome("charge state", { "rest voltage": 12.45 });
    // 0.05 V over the slope of the piece from 50 to 75 %, read as limits.
    near(
      result.ok ? (result.scatter?.standardUncertainty ?? 0) : 0,
      (0.05 * 0.25) / 0.21 / Math.sqrt(3),
      1e-9,
    );
    expect(outside("charge state", { "rest voltage": 13.4 })[0]).toMatch(/charged a short time ago/);
    expect(outside("charge state", { "rest voltage": 11.2 })[0]).toMatch(/empty battery/);
    expect(refusal("charge state", { "rest voltage": 25.2 })).toMatch(/24 V/);
    expect(refusal("charge state", { "rest voltage": 4 })).toMatch(/dead cell/);
  });
});

describe("wire", () => {
  it("counts there and back, and copper's temperature (20 to 75 degC: 22 %, trap)", () => {
    const args = { length: 5, section: 2.5e-6, temperature: 293.15 };
    const ohms = call("wire resistance", args);
    near(call("wire drop", { ...args, current: 20 }), 2 * 20 * ohms, 1e-12);
    near(call("wire resistance", { ...args, temperature: 348.15 }) / ohms, 1.21615, 1e-9);
    near(ohms / call("wire resistance", { ...args, strand: "solid" }), 1.02, 1e-12);
  });

  it("needs one of gauge and section", () => {
    const args = { current: 5, length: 2 };
    expect(refusal("wire drop", args)).toMatch(/gauge: 14/);
    expect(refusal("wire drop", { ...args, gauge: 14, section: 2e-6 })).toMatch(/not both/);
    expect(refusal("wire drop", { ...args, gauge: 50 })).toMatch(/4\/0/);
    expect(refusal("wire drop", { ...args, section: 0 })).toMatch(/section/);
    expect(outside("wire drop", { ...args, gauge: 14, temperature: 500 })[0]).toMatch(/−40 to 150/);
  });

  it("warns of a supply that sags to less than half", () => {
    const weak = { "open voltage": 12, current: 100, "internal resistance": 0.1 };
    expect(outside("supply sag", weak)[0]).toMatch(/half/);
  });
});

describe("sealing", () => {
  it("a bead is round with a width alone, flat with a height, and a fillet when asked", () => {
    const args = { length: 1, width: 8e-3 };
    near(call("bead volume", args), (Math.PI / 4) * 64e-6, 1e-12);
    near(call("bead volume", { ...args, height: 2e-3 }), 16e-6, 1e-12);
    near(call("bead volume", { ...args, height: 8e-3, shape: "fillet" }), 32e-6, 1e-12);
    near(call("bead volume", { ...args, height: 8e-3, shape: "round" }), call("bead volume", args), 1e-12);
  });

  it("says how many tubes to open", () => {
    expect(remarks("tubes", { volume: 3e-4, "tube size": 3e-4 })).toEqual(["Open 1 tube."]);
    expect(remarks("tubes", { volume: 3.1e-4, "tube size": 3e-4 })).toEqual(["Open 2 tubes."]);
    expect(refusal("tubes", { volume: 3e-4, "tube size": 0 })).toMatch(/tube size/);
  });

  it("twice the depth takes four times as long, and a cold shop about three times (vapour pressure by ASHRAE)", () => {
    near(call("cure time", { depth: 6e-3 }) / call("cure time", { depth: 3e-3 }), 4, 1e-12);
    const cold = call("cure time", { depth: 2e-3, temperature: 278.15, humidity: 0.5 });
    near(cold / call("cure time", { depth: 2e-3 }), 2810.4 / 872.6, 0.01);
    const air = { temperature: 278.15, humidity: 0.5 };
    near(call("skin time", { "sheet time": 600, ...air }) / 600, cold / 86400, 1e-12);
  });

  it("on the data sheet's own point it gives the data sheet's own time", () => {
    near(call("cure time", { depth: 2e-3, temperature: 296.15, humidity: 0.5 }), 86400, 1e-12);
  });

  it("tells what the estimate lacks", () => {
    expect(remarks("cure time", { depth: 2e-3 })[0]).toMatch(/data sheet/);
    expect(outside("cure time", { depth: 9e-3 })[0]).toMatch(/6 mm/);
    expect(outside("skin time", { "sheet time": 600, temperature: 270, humidity: 0.1 })).toHaveLength(2);
    expect(refusal("cure time", { depth: 2e-3, humidity: 0 })).toMatch(/moisture/);
  });
});
