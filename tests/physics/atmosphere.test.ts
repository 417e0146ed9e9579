import { describe, expect, it } from "vitest";
import { standardPressure } from "../../server/src/physics/atmosphere.ts";

describe("air pressure by altitude", () => {
  // ASHRAE Handbook Fundamentals 2017, chapter 1, table 1, as quoted in the tests of psychrolib.
  it.each([
    [0, 101_325],
    [1000, 89_875],
    [4000, 61_640],
  ])("at %i m is %i Pa, within 1 Pa", (altitude, pressure) => {
    expect(Math.abs(standardPressure(altitude) - pressure)).toBeLessThanOrEqual(1);
  });

  it("is 22,632 Pa where the layer ends (ICAO standard atmosphere, from memory)", () => {
    expect(standardPressure(11_000)).toBeCloseTo(22_632, 0);
  });

  it("stays at the layer's end beyond it", () => {
    expect(standardPressure(20_000)).toBe(standardPressure(11_000));
    expect(standardPressure(-600)).toBe(standardPressure(-500));
  });
});
