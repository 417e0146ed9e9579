import { describe, expect, it } from "vitest";
import { builtInProcedure, builtInProcedures } from "../../server/src/procedures/load.ts";

/** The default limits of the domain design, copied by hand. `null`: no such step of the ladder. */
type Row = readonly [procedure: string, assembly: string, warn: string | null, error: string, source: string];

const PRACTICE = "common practice, no source";
const PRESSURES: readonly Row[] = [
  ["lamp-moisture", "lamp housing", "1 psi", "2 psi", PRACTICE],
  ["module-enclosure-leak", "module enclosure", "0.5 psi", "1 psi", PRACTICE],
  // The reference values quote the guidance: "applied pressure not exceeding 14.5 inches of water or fuel
  // system damage may occur".
  [
    "evap-leak",
    "fuel-vapour system",
    "14 inH2O",
    "14.5 inH2O",
    "US EPA evaporative test guidance: damage may occur above it",
  ],
  ["intake-leak", "intake", "1 psi", "2 psi", PRACTICE],
  ["exhaust-leak", "exhaust", "1 psi", "2 psi", PRACTICE],
  ["crankcase-leak", "crankcase", "0.5 psi", "1 psi", PRACTICE],
  ["cabin-water-leak", "cabin", "0.05 psi", "0.1 psi", PRACTICE],
];

const limitsOf = (id: string, rule: string) =>
  builtInProcedure(id)?.limits.filter((limit) => limit.rule === rule) ?? [];
const needs = (id: string, name: string) =>
  builtInProcedure(id)?.steps.find((step) => step.name === name)?.needs ?? [];

describe("default limits", () => {
  it.each(PRESSURES)("%s: %s warns above %s, errs above %s", (id, assembly, warn, error, source) => {
    const limits = limitsOf(id, "pressure/over-limit");
    expect(limits).toHaveLength(1);
    expect(limits[0]).toMatchObject({ assembly, warnAbove: warn, errorAbove: error, source });
    expect(limits[0]?.errorFrom).toBeUndefined();
  });

  it("go by what is stated for boost, and by the lowest marking for a cooling system", () => {
    expect(limitsOf("boost-leak", "pressure/over-limit")[0]?.errorAbove).toEqual({ reading: "boost limit" });
    expect(limitsOf("cooling-pressure", "pressure/over-limit")[0]?.errorAbove).toEqual({
      reading: "lowest marking",
    });
    const unstated = needs("boost-leak", "pressurize").find((need) => need.rule === "pressure/no-limit");
    // With none stated it is an error to pressurize, not the usual warning.
    expect(unstated?.severity ?? "error").toBe("error");
    expect(builtInProcedure("boost-leak")?.conditions.get("boost limit stated")?.shownBy).toContainEqual({
      limit: "test pressure",
      statedOnly: true,
    });
  });

  it("want the crankcase vented and the caps restrained for a boost test", () => {
    const asked = needs("boost-leak", "pressurize").flatMap((need) => ("all" in need ? need.all : []));
    expect(asked).toEqual(expect.arrayContaining(["crankcase vented", "caps restrained"]));
  });

  it("make opening a hot cooling system an error, and warming it with a cold-fitted tester a warning", () => {
    const cold = needs("cooling-pressure", "open cap").find(
      (need) => "all" in need && need.all.includes("cold"),
    );
    expect(cold?.severity ?? "error").toBe("error");
    for (const step of ["run engine", "warm run"]) {
      const tester = needs("cooling-pressure", step).filter((need) => need.severity === "warning");
      expect(tester).toMatchObject([{ all: [{ not: "tester on" }] }]);
    }
  });

  it.each(builtInProcedures.map((procedure) => procedure.id))("%s keeps cleaning air below 30 psi", (id) => {
    // 29 CFR 1910.242(b): "reduced to less than 30 p.s.i.", so 30 psi itself is too much.
    const limits = limitsOf(id, "pressure/cleaning-air");
    expect(limits).toMatchObject([{ errorFrom: "30 psi", source: "29 CFR 1910.242(b)", raisable: false }]);
    expect(limits[0]?.of.steps).toEqual(expect.arrayContaining(["blow out", "clean"]));
  });

  it("warm a plastic lens to 60 °C with a warning above and to 80 °C at most", () => {
    expect(limitsOf("lamp-moisture", "moisture/too-hot")).toMatchObject([
      {
        warnAbove: "60 degC",
        errorAbove: "80 degC",
        source: PRACTICE,
        of: { steps: ["dry"], reads: "temperature" },
      },
    ]);
  });

  it("cannot be raised for fuel vapour, and can for a lamp", () => {
    expect(limitsOf("evap-leak", "pressure/over-limit")[0]?.raisable).toBe(false);
    expect(limitsOf("lamp-moisture", "pressure/over-limit")[0]?.raisable).toBe(true);
  });
});

describe("the medium", () => {
  it("of a fuel-vapour test is nitrogen, argon or carbon dioxide, and is stated", () => {
    const medium = builtInProcedure("evap-leak")?.medium;
    expect(medium?.mustBeStated).toBe(true);
    expect(medium?.allowed).toEqual(["nitrogen", "N2", "argon", "carbon dioxide", "CO2"]);
    expect(medium?.forbidden).toEqual(
      expect.arrayContaining(["air", "shop air", "compressed air", "oxygen"]),
    );
  });

  it("is never oxygen or a fuel gas (common practice, no source)", () => {
    const tested = builtInProcedures.filter((procedure) => procedure.stepsByWords.has("pressurize"));
    expect(tested.filter((procedure) => !procedure.medium?.forbidden.includes("oxygen"))).toEqual([]);
    expect(tested.filter((procedure) => !procedure.medium?.forbidden.includes("propane"))).toEqual([]);
  });
});
