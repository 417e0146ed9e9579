/** Second opinion throughout: psychrolib 1.1.1, the ASHRAE Handbook, Fundamentals (2017), chapter 1, in code. */
import fc from "fast-check";
import psychrolib from "psychrolib";
import { describe, expect, it } from "vitest";
import { standardPressure } from "../../server/src/physics/atmosphere.ts";
import { constant } from "../../server/src/physics/dual.ts";
import * as moist from "../../server/src/physics/psychrometrics.ts";
import { saturationPressure, saturationTemperature } from "../../server/src/physics/saturation.ts";
import { AMBIENT, call, outside, refusal, remarks } from "./call.ts";

psychrolib.SetUnitSystem(psychrolib.SI);
const C = 273.15;
const near = (got: number, wanted: number, relative: number): void =>
  expect(Math.abs(got - wanted)).toBeLessThanOrEqual(relative * Math.abs(wanted));

const temperature = fc.double({ min: -40, max: 90, noNaN: true });
const humidity = fc.double({ min: 0.01, max: 1, noNaN: true });
const pressure = fc.double({ min: 7.5e4, max: 1.1e5, noNaN: true });

describe("against the psychrometrics library", () => {
  it("saturation pressure from −100 to 200 degC", () => {
    for (let t = -100; t <= 200; t += 2.5)
      near(call("saturation pressure", { temperature: t + C }), psychrolib.GetSatVapPres(t), 1e-12);
  });

  it("dew point, which the library iterates to 0.001 K", () => {
    fc.assert(
      fc.property(temperature, humidity, (t, wet) => {
        const got = call("dew point", { temperature: t + C, humidity: wet }) - C;
        expect(Math.abs(got - psychrolib.GetTDewPointFromRelHum(t, wet))).toBeLessThan(2e-3);
      }),
    );
  });

  it("wet bulb, which the library iterates to 0.001 K", () => {
    fc.assert(
      fc.property(fc.double({ min: -20, max: 70, noNaN: true }), humidity, pressure, (t, wet, p) => {
        const got = call("wet bulb", { temperature: t + C, humidity: wet, ambient: p }) - C;
        // The two branches of the balance do not meet at 0 degC, so a result there may sit on either side.
        const library = psychrolib.GetTWetBulbFromRelHum(t, wet, p);
        expect(Math.abs(got - library)).toBeLessThan(3e-3);
      }),
    );
  });

  it("humidity ratio, volume and enthalpy", () => {
    fc.assert(
      fc.property(fc.double({ min: -20, max: 70, noNaN: true }), humidity, pressure, (t, wet, p) => {
        const ratio = psychrolib.GetHumRatioFromRelHum(t, wet, p);
        // The library never returns less than 1e-7 kg/kg.
        if (ratio <= 1.1e-7) return;
        near(call("humidity ratio", { temperature: t + C, humidity: wet, ambient: p }), ratio, 1e-11);
        const volume = moist.specificVolume(constant(t + C), constant(ratio), constant(p)).v;
        near(volume, psychrolib.GetMoistAirVolume(t, ratio, p), 1e-11);
        const heat = moist.enthalpy(constant(t + C), constant(ratio)).v * 1000;
        expect(Math.abs(heat - psychrolib.GetMoistAirEnthalpy(t, ratio))).toBeLessThan(1e-6);
      }),
    );
  });

  it("the wet-bulb balance over water and over ice", () => {
    for (const [t, wet] of [
      [25, 17],
      [40, 20],
      [2, 0.5],
      [5, -3],
      [-5, -7],
    ] as const)
      near(
        moist.ratioFromWetBulb(constant(t + C), constant(wet + C), constant(AMBIENT)).v,
        psychrolib.GetHumRatioFromTWetBulb(t, wet, AMBIENT),
        1e-10,
      );
  });

  it("the standard atmosphere, whose ASHRAE constants are rounded", () => {
    for (const z of [-300, 0, 450, 1000, 4000])
      near(standardPressure(z), psychrolib.GetStandardAtmPressure(z), 1e-5);
  });
});

describe("properties", () => {
  it("saturation temperature inverts saturation pressure from −95 to 195 degC", () => {
    fc.assert(
      fc.property(fc.double({ min: -95, max: 195, noNaN: true }), (t) => {
        const back = saturationTemperature(saturationPressure(constant(t + C)), 3).v;
        expect(Math.abs(back - t - C)).toBeLessThan(1e-9);
      }),
    );
  });

  it("dew point and relative humidity are inverses", () => {
    fc.assert(
      fc.property(temperature, humidity, (t, wet) => {
        const dew = call("dew point", { temperature: t + C, humidity: wet });
        near(call("relative humidity", { temperature: t + C, "dew point": dew }), wet, 1e-11);
      }),
    );
  });

  it("dew point ≤ wet bulb ≤ air temperature, and all equal at saturation", () => {
    fc.assert(
      fc.property(fc.double({ min: 5, max: 70, noNaN: true }), humidity, (t, wet) => {
        const args = { temperature: t + C, humidity: wet };
        const bulb = call("wet bulb", args);
        // Below 0 degC the balance is over ice, which shifts the wet bulb by a few hundredths of a kelvin.
        expect(bulb).toBeGreaterThanOrEqual(call("dew point", args) - 0.05);
        expect(bulb).toBeLessThanOrEqual(args.temperature + 1e-9);
      }),
    );
    for (const name of ["dew point", "wet bulb"])
      expect(call(name, { temperature: 293.15, humidity: 1 })).toBeCloseTo(293.15, 8);
  });

  it("more humidity never lowers dew point, wet bulb or water in air", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 60, noNaN: true }),
        fc.double({ min: 0.05, max: 0.9, noNaN: true }),
        fc.double({ min: 0.001, max: 0.1, noNaN: true }),
        (t, wet, more) => {
          for (const name of ["dew point", "water in air", "humidity ratio"])
            expect(call(name, { temperature: t + C, humidity: wet + more })).toBeGreaterThan(
              call(name, { temperature: t + C, humidity: wet }),
            );
        },
      ),
    );
  });
});

describe("drying", () => {
  const args = {
    "water mass": 5e-3,
    "air flow": 10 / 60000,
    "inlet temperature": 318.15,
    "inlet humidity": 0.12,
  };

  it("without an outlet temperature the air cools along the wet-bulb line, to 0.3 K (ASHRAE balance)", () => {
    const outlet = moist.evaporationOutlet(
      constant(318.15),
      constant(0.12),
      constant(1),
      constant(AMBIENT),
      9,
    ).v;
    const bulb = psychrolib.GetTWetBulbFromRelHum(45, 0.12, AMBIENT);
    expect(Math.abs(outlet - C - bulb)).toBeLessThan(0.3);
  });

  it("takes longer with damper or less air, and says when air dries nothing", () => {
    const time = call("drying time", args);
    expect(call("drying time", { ...args, "inlet humidity": 0.3 })).toBeGreaterThan(time);
    near(call("drying time", { ...args, "air flow": 5 / 60000 }), 2 * time, 1e-9);
    expect(refusal("drying time", { ...args, "inlet humidity": 0.8 })).toMatch(/dries nothing/);
    const cold = { ...args, "outlet temperature": 283.15, "outlet humidity": 0.5 };
    expect(refusal("drying time", cold)).toMatch(/dries nothing/);
    expect(refusal("drying time", { ...args, "air flow": 0 })).toMatch(/air flow/);
  });

  it("one air change of a wet 2 L housing takes away under 0.1 g of water (reference row H066)", () => {
    expect(0.002 * call("water in air", { temperature: 298.15, humidity: 1 })).toBeLessThan(1e-4);
  });

  it("a night's cooling draws in milligrams of vapour", () => {
    const got = call("water breathed", {
      volume: 5e-3,
      "low temperature": 283.15,
      "high temperature": 323.15,
      humidity: 0.9,
    });
    const drawn = -call("breathed volume", { volume: 5e-3, temperature: 323.15, "new temperature": 283.15 });
    near(got, drawn * call("water in air", { temperature: 283.15, humidity: 0.9 }), 1e-12);
  });
});

describe("what the technician is told", () => {
  it("humidity over 100 %, dry air, a cold surface and a dew point above the air", () => {
    expect(outside("dew point", { temperature: 293, humidity: 1.05 })[0]).toMatch(/over 100 %/);
    expect(refusal("dew point", { temperature: 293, humidity: 0 })).toMatch(/45 %/);
    const cold = { "surface temperature": 275, temperature: 298, humidity: 0.6 };
    expect(remarks("dew margin", cold)[0]).toMatch(/condenses/);
    expect(outside("relative humidity", { temperature: 290, "dew point": 295 })[0]).toMatch(
      /dew point is above/,
    );
    expect(outside("saturation pressure", { temperature: 500 })[0]).toMatch(/−100 to 200 degC/);
    expect(refusal("humidity ratio", { temperature: 380, humidity: 1 })).toMatch(/steam/);
  });
});
