import { describe, expect, it } from "vitest";
import { builtInProcedure } from "../../server/src/procedures/load.ts";
import type { Step } from "../../server/src/procedures/procedure.ts";
import { given } from "./walk.ts";

/**
 * The four tables of the domain design, copied by hand: a technician's judgement, no source.
 * They are not derived from the YAML files, so that a slip there shows here.
 *
 * One row a step: what it needs (`a | b` any of, `not a` must not hold), makes and undoes, and after a
 * semicolon what `fail` undoes. A `*` asks for an outcome or evidence; `[p]` is kept per place.
 */
type Row = readonly [step: string, needs: string, makes: string, undoes: string];

interface Table {
  readonly start: string;
  readonly end: string;
  readonly rows: readonly Row[];
}

const TABLES: Record<string, Table> = {
  "lamp-moisture": {
    start: "vents open, pressure off, power on, fitted",
    end: "tight, dry, vents open, pressure off, fitted, power on, checked",
    rows: [
      ["assess*", "", "fault confirmed", ""],
      ["isolate power", "", "isolated", "power on"],
      ["block vents", "pressure off", "vents blocked", "vents open"],
      // "or a reason": the reason is what `vents left open` says.
      [
        "pressurize",
        "isolated, vents blocked | vents left open, known limit, not fresh sealant",
        "pressurized",
        "pressure off",
      ],
      // "never on a membrane vent".
      ["soap", "not soap at a membrane", "", "dry, clean"],
      ["locate*", "pressurized | water | sight", "located[p]", ""],
      ["relieve pressure", "", "pressure off", "pressurized"],
      ["unblock vents", "pressure off", "vents open", "vents blocked"],
      // The row "open, drain, blow out": opening is what the next row calls "opened".
      ["open", "isolated, pressure off", "opened", "fitted, tight"],
      ["drain", "isolated, pressure off", "drained", "fitted, tight"],
      ["blow out", "isolated, pressure off", "drained", "fitted, tight"],
      ["dry*", "drained | opened, vents open, pressure off", "dry", ""],
      ["clean", "pressure off", "clean[p]", ""],
      ["seal", "located, dry, clean, vents open, pressure off", "sealed[p], fresh sealant[p]", "tight"],
      ["cure", "sealed, vents open", "cured[p]", "fresh sealant"],
      ["replace", "isolated, pressure off", "fixed, dry", "tight"],
      // The reason that serves `pressurize` serves the retest too.
      ["retest*", "pressurized, vents blocked | vents left open, cured | fixed", "tight[p]", "; tight"],
      ["water test*", "not fresh sealant", "tight[p]", "; tight, dry"],
      ["close", "dry, vents open, not fresh sealant", "fitted", ""],
      ["refit", "dry, vents open, not fresh sealant", "fitted", ""],
      ["restore power", "fitted", "power on", "isolated"],
      ["function check*", "power on", "checked", "; checked"],
    ],
  },
  "evap-leak": {
    // The purge valve is closed unless commanded; the table asks for it and has no step that closes it.
    start: "vent open, pressure off, port closed, purge closed",
    end: "tight, vent open, pressure off, port closed, checked",
    rows: [
      ["make safe*", "ventilated, engine cool, fuel level right", "ignition sources removed", ""],
      ["inspect*", "ignition sources removed", "no liquid fuel", ""],
      ["connect", "ignition sources removed, inert medium", "connected", "port closed"],
      ["close vent", "ignition sources removed", "vent closed", "vent open"],
      [
        "pressurize",
        "connected, no liquid fuel, ignition sources removed, vent closed, purge closed, known limit",
        "pressurized",
        "pressure off",
      ],
      ["locate*", "pressurized", "located[p]", ""],
      ["relieve pressure", "ignition sources removed", "pressure off", "pressurized"],
      ["repair", "located, pressure off, ignition sources removed", "fixed[p]", "tight"],
      ["replace", "located, pressure off, ignition sources removed", "fixed[p]", "tight"],
      ["retest*", "fixed, pressurized, temperature stable", "tight[p]", "; tight"],
      ["open vent", "pressure off", "vent open", "vent closed"],
      ["disconnect", "pressure off", "port closed", "connected"],
      ["heat", "", "", "ignition sources removed"],
      ["spark", "", "", "ignition sources removed"],
      ["function check*", "vent open, port closed, no liquid fuel", "checked", "; checked"],
    ],
  },
  "cooling-pressure": {
    start: "closed, pressure off",
    end: "tight, bled, closed, pressure off, cap good, checked, level good",
    rows: [
      ["confirm cold*", "engine off", "cold", ""],
      ["open cap", "cold, pressure off", "opened", "closed"],
      // The row "fill, bleed", split; filling also ends the drained state, so that it can be left behind.
      ["fill", "cold, opened", "filled", "drained"],
      ["bleed", "cold, opened", "bled", ""],
      ["test cap*", "opened", "cap good", "; cap good"],
      ["fit tester", "cold, filled", "tester on", ""],
      ["pressurize", "tester on, lowest marking known", "pressurized", "pressure off"],
      ["locate*", "pressurized", "located[p]", ""],
      ["relieve pressure", "", "pressure off", "pressurized"],
      ["drain", "cold, pressure off", "drained", "filled, bled"],
      ["repair", "located, pressure off, drained", "fixed[p]", "tight"],
      ["replace", "located, pressure off, drained", "fixed[p]", "tight"],
      // "cured": asked for only where a sealant was used. "fixed": or a new cap, where the old one was the fault.
      [
        "retest*",
        [
          "fixed | cap at fault",
          "fixed | not located | not cap at fault",
          "fixed | cap good | not cap at fault",
          "not fresh sealant, filled, pressurized",
        ].join(", "),
        "tight[p]",
        "; tight",
      ],
      // The row "remove tester, fit cap", split.
      ["remove tester", "pressure off", "", "tester on"],
      ["fit cap", "pressure off", "closed", "opened"],
      // "not tester on" is the table of limits: warming with a tester fitted while cold is a warning.
      ["warm run*", "closed, filled, bled, tight, not tester on", "checked", "cold, level good; checked"],
      ["recheck level*", "cold", "level good", "; level good"],
    ],
  },
  "key-off-draw": {
    start: "fuses in, lead on, latches normal",
    // "meter out" is `meter in`, which must be undone.
    end: "draw good, fuses in, latches normal, lead on, battery fit, checked",
    rows: [
      ["test battery*", "", "battery fit", "; battery fit"],
      ["prepare", "key off and away", "prepared", "asleep, latches normal"],
      ["connect meter", "battery fit, range known, clamp zeroed | lead bridged", "meter in", "asleep"],
      ["wait*", "prepared, meter in", "asleep", ""],
      ["measure*", "asleep", "draw known", ""],
      ["fuse drops*", "asleep", "circuit located", ""],
      // The row "pull fuse, refit fuse", split.
      ["pull fuse", "", "fuse out", "fuses in, asleep"],
      ["refit fuse", "", "fuses in", "fuse out, asleep"],
      ["door", "", "", "asleep"],
      ["key", "", "", "asleep, key off and away"],
      ["scan tool", "", "", "asleep"],
      // "no meter in series": a clamp round the lead does not mind.
      ["crank", "not meter in | clamp zeroed", "", "asleep"],
      ["repair", "circuit located", "fixed", "asleep, draw good"],
      ["replace", "circuit located", "fixed", "asleep, draw good"],
      ["remeasure*", "fixed, fuses in, asleep", "draw good", "; draw good"],
      // The row "remove meter, restore", split.
      ["remove meter", "lead bridged | clamp zeroed", "lead on", "meter in"],
      ["restore", "", "latches normal", "prepared"],
      ["function check*", "lead on, fuses in", "checked", "; checked"],
    ],
  },
};

const list = (text: string) =>
  text
    .split(",")
    .map((part) => part.trim())
    .filter((part) => part !== "")
    .sort();

const needsOf = (step: Step) =>
  step.needs
    .flatMap((need) => {
      const terms = ("all" in need ? need.all : need.anyOf).map((term) =>
        typeof term === "string" ? term : `not ${term.not}`,
      );
      return "all" in need ? terms : [terms.join(" | ")];
    })
    .sort();

describe.each(Object.entries(TABLES))("the table of %s (technician's judgement, no source)", (id, table) => {
  const procedure = builtInProcedure(id);
  if (!procedure) throw new Error(`${id} is not there`);
  const kept = (name: string) => (procedure.conditions.get(name)?.perPlace ? `${name}[p]` : name);

  it("starts and ends as the table says", () => {
    expect([...procedure.start].sort()).toEqual(list(table.start));
    expect([...procedure.end.repaired].sort()).toEqual(list(table.end));
    expect(procedure.end.replaced).toEqual(procedure.end.repaired);
  });

  it.each(table.rows)("%s needs %s, makes %s, undoes %s", (starred, needs, makes, undoes) => {
    const name = starred.replace("*", "");
    const step = procedure.steps.find((one) => one.name === name);
    if (!step) throw new Error(`${name} is not there`);
    const [always = "", onFail = ""] = undoes.split(";");
    expect(needsOf(step)).toEqual(list(needs));
    expect([...step.makes].map(kept).sort()).toEqual(list(makes));
    expect([...step.undoes].sort()).toEqual(list(always));
    expect([...(step.byOutcome?.fail?.undoes ?? [])].sort()).toEqual(list(onFail));
    // A star is an outcome, evidence of its own, or needs that only a remark or a reading can show.
    const proof =
      step.outcome !== undefined ||
      step.evidence !== undefined ||
      step.needs.every(
        (need) => "all" in need && need.all.every((t) => typeof t === "string" && given(procedure, t)),
      );
    if (starred.endsWith("*")) expect(proof).toBe(true);
    else expect(step.outcome).toBeUndefined();
  });
});

describe("what the tables say beside their rows (technician's judgement, no source)", () => {
  const condition = (id: string, name: string) => builtInProcedure(id)?.conditions.get(name);
  const step = (id: string, name: string) => builtInProcedure(id)?.steps.find((one) => one.name === name);

  it("lets a night undo what cannot be taken for granted", () => {
    expect(condition("lamp-moisture", "isolated")?.lostOvernight).toBe(true);
    expect(condition("evap-leak", "ignition sources removed")?.lostOvernight).toBe(true);
    expect(condition("cooling-pressure", "cold")?.lostOvernight).toBe(true);
    expect(condition("exhaust-leak", "cold")?.lostOvernight).toBe(true);
  });

  it("leaves no lamp with vents capped or pressure on, and no meter in the circuit", () => {
    expect(condition("lamp-moisture", "vents blocked")?.mustBeUndone).toBe(true);
    expect(condition("lamp-moisture", "pressurized")?.mustBeUndone).toBe(true);
    expect(condition("key-off-draw", "meter in")?.mustBeUndone).toBe(true);
  });

  it("takes fog that clears by itself for no leak", () => {
    expect(step("lamp-moisture", "assess")?.outcome).toBe("droplets, fog or none");
    expect(step("lamp-moisture", "assess")?.makes).toEqual(["fault confirmed"]);
    expect(step("lamp-moisture", "assess")?.provedBy).toBeUndefined();
  });

  it("asks for more than a duration to call a lamp dry, and only warns without", () => {
    const evidence = step("lamp-moisture", "dry")?.evidence;
    expect(evidence?.missing).toBe("warning");
    expect(evidence?.anyOf).toContainEqual({ step: "inspect", outcome: "none" });
    expect(evidence?.anyOf.some((one) => "quantity" in one && one.quantity === "time")).toBe(false);
  });

  it("calls sealing wet and testing fresh sealant by their own rules", () => {
    const ruled = (id: string, name: string) => step(id, name)?.needs.flatMap((need) => need.rule ?? []);
    expect(ruled("lamp-moisture", "seal")).toEqual(["sequence/not-dry"]);
    expect(ruled("lamp-moisture", "retest")).toEqual(["sequence/not-cured"]);
    expect(ruled("lamp-moisture", "refit")).toEqual(["sequence/not-dry", "sequence/not-cured"]);
  });

  it("stops at liquid fuel, and never asks to isolate power in a fuel-vapour system", () => {
    expect(step("evap-leak", "inspect")?.byOutcome?.found?.undoes).toEqual(["no liquid fuel"]);
    expect(step("evap-leak", "inspect")?.provedBy).toEqual(["none"]);
    expect(condition("evap-leak", "isolated")).toBeUndefined();
  });

  it("counts blowing air into a blocked housing as pressurizing it", () => {
    expect(step("lamp-moisture", "blow out")?.countsAs).toMatchObject({
      step: "pressurize",
      while: "vents blocked",
    });
  });
});
