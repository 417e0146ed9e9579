import { describe, expect, it } from "vitest";
import { builtInProcedure } from "../../server/src/procedures/load.ts";
import { completeProcedure, findStep, type Procedure } from "../../server/src/procedures/procedure.ts";
import type { ProcedureFile } from "../../server/src/procedures/procedure-schema.ts";
import { commonFile } from "../../server/src/procedures/procedures.generated.ts";

function procedure(id: string): Procedure {
  const found = builtInProcedure(id);
  if (!found) throw new Error(`${id} is not there`);
  return found;
}

describe("a technician's words", () => {
  // How technicians talk: common practice, no source.
  it.each([
    ["lamp-moisture", "cap vents", "block vents"],
    ["lamp-moisture", "plug breathers", "block vents"],
    ["lamp-moisture", "power off", "isolate power"],
    ["lamp-moisture", "key off", "isolate power"],
    ["lamp-moisture", "pressurise", "pressurize"],
    ["lamp-moisture", "depressurise", "relieve pressure"],
    ["cooling-pressure", "depressurise", "relieve pressure"],
    ["cooling-pressure", "Pressurise", "pressurize"],
    ["lamp-moisture", "smoke", "pressurize"],
    ["lamp-moisture", "Smoke in", "pressurize"],
    ["lamp-moisture", "find leak", "locate"],
    ["lamp-moisture", "spray soap", "soap"],
    ["lamp-moisture", "bleed pressure", "relieve pressure"],
    ["lamp-moisture", "vent pressure", "relieve pressure"],
    ["lamp-moisture", "reseal", "seal"],
    ["lamp-moisture", "let cure", "cure"],
    ["lamp-moisture", "reinstall", "refit"],
    ["lamp-moisture", "reconnect", "restore power"],
    ["lamp-moisture", "road test", "function check"],
    ["lamp-moisture", "Call Customer", "call customer"],
    ["evap-leak", "hook up", "connect"],
    ["evap-leak", "nitrogen in", "pressurize"],
    ["cooling-pressure", "burp", "bleed"],
    ["cooling-pressure", "bleed pressure", "relieve pressure"],
    ["cooling-pressure", "road test", "warm run"],
    ["key-off-draw", "key off", "put key away"],
    ["key-off-draw", "retest", "remeasure"],
    ["boost-leak", "strap caps", "restrain caps"],
    ["cabin-water-leak", "retest", "water test"],
    ["module-enclosure-leak", "new gasket", "renew seal"],
    ["tester-comparison", "swap testers", "disconnect"],
    ["general", "fix", "repair"],
  ])("%s: %s is %s", (id, words, name) => {
    expect(findStep(procedure(id), words)).toMatchObject({ ok: true, step: { name } });
  });

  it("may be written with other case, hyphens and blanks", () => {
    for (const words of ["retest", "Re-test", "RE  TEST", "re-Test "]) {
      expect(findStep(procedure("lamp-moisture"), words)).toMatchObject({
        ok: true,
        step: { name: "retest" },
      });
    }
  });

  it("offer the nearest steps by their own names when they are mistyped", () => {
    // "depressurize" is near too, and means the second one.
    const offered = ["pressurize", "relieve pressure"];
    expect(findStep(procedure("lamp-moisture"), "presurize")).toEqual({ ok: false, nearest: offered });
    expect(findStep(procedure("lamp-moisture"), "locat")).toEqual({ ok: false, nearest: ["locate"] });
    // A mistyped alias offers the step that it stands for.
    expect(findStep(procedure("lamp-moisture"), "plug breatherz")).toMatchObject({
      ok: false,
      nearest: ["block vents", "unblock vents"],
    });
    expect(findStep(procedure("lamp-moisture"), "polish the bumper")).toEqual({ ok: false, nearest: [] });
  });
});

describe("the common steps", () => {
  const file: ProcedureFile = {
    id: "two-steps",
    title: "Two steps",
    covers: "A test.",
    cautions: ["Take care."],
    defer: ["the maker"],
    conditions: { held: { says: "held" } },
    start: ["held"],
    end: {
      repaired: ["held"],
      replaced: ["held"],
      "no fault found": ["held"],
      declined: ["held"],
      "diagnosis only": ["held"],
    },
    steps: [
      { name: "Wait", makes: ["held"] },
      { name: "look", aliases: ["picture"] },
    ],
    usual: [],
  };
  const made = completeProcedure(file, commonFile);

  it("give way to a procedure's own step of the same name", () => {
    expect(made.steps.filter((step) => step.name.toLowerCase() === "wait")).toMatchObject([
      { makes: ["held"] },
    ]);
  });

  it("lose an alias that a procedure's own step uses", () => {
    expect(made.stepsByWords.get("picture")?.name).toBe("look");
    expect(made.stepsByWords.get("photograph")?.name).toBe("photo");
  });

  it("lose a need on a condition that a procedure does not keep", () => {
    expect(made.stepsByWords.get("hand over")?.needs).toEqual([]);
    expect(procedure("lamp-moisture").stepsByWords.get("hand over")?.needs).toMatchObject([
      { all: ["pressure off"] },
    ]);
  });

  it("never share a limit's steps that a procedure does not know", () => {
    expect(made.limits.map((limit) => limit.of.steps)).toEqual([["blow out", "clean"]]);
  });
});
