import { describe, expect, it } from "vitest";
import { builtInProcedure, builtInProcedures } from "../../server/src/procedures/load.ts";
import { type Procedure, type Step, termsOf } from "../../server/src/procedures/procedure.ts";
import { JOB_OUTCOMES, OUTCOME_WORDS } from "../../server/src/procedures/procedure-schema.ts";
import { after, endHolds, given, missingAtEnd, needHolds, walk } from "./walk.ts";

/** Conditions that some need or end asks about; the others cannot keep a job from its end. */
function asked(procedure: Procedure): string[] {
  const ends = JSON.stringify(Object.values(procedure.end));
  const needed = new Set(procedure.steps.flatMap((step) => step.needs.flatMap(termsOf)));
  return [...procedure.conditions]
    .filter(
      ([name, condition]) =>
        needed.has(name) || condition.mustBeUndone || ends.includes(JSON.stringify(name)),
    )
    .map(([name]) => name)
    .filter((name) => !given(procedure, name) || procedure.conditions.get(name)?.mustBeUndone);
}

/** Breadth-first over the sets of conditions that hold, each step done only when its needs are met. */
function reachableEnds(procedure: Procedure): Set<string> {
  const relevant = asked(procedure);
  const key = (holds: ReadonlySet<string>) => relevant.map((name) => (holds.has(name) ? "1" : "0")).join("");
  // A step that only undoes what another made (a door, a spark) never brings a job nearer to its end.
  const mustGo = (name: string) => procedure.conditions.get(name)?.mustBeUndone === true;
  const helps = (step: Step) =>
    [step, ...Object.values(step.byOutcome ?? {})].some((effect) => (effect.makes ?? []).length > 0) ||
    step.undoes.some(mustGo);
  const moves: (readonly [Step, string | null])[] = procedure.steps.filter(helps).flatMap((step) => {
    const words: readonly (string | null)[] = step.outcome ? OUTCOME_WORDS[step.outcome] : [null];
    return words.map((word) => [step, word] as const);
  });
  const start: ReadonlySet<string> = new Set(procedure.start);
  const seen = new Set([key(start)]);
  const queue = [start];
  const reached = new Set<string>();
  for (let i = 0; i < queue.length && reached.size < JOB_OUTCOMES.length; i++) {
    const holds = queue[i] ?? start;
    for (const outcome of JOB_OUTCOMES) {
      const settled = procedure.end[outcome].every((term) => endHolds(procedure, holds, term));
      if (settled && missingAtEnd(procedure, outcome, holds).length === 0) reached.add(outcome);
    }
    for (const [step, word] of moves) {
      if (!step.needs.every((need) => needHolds(procedure, holds, need))) continue;
      const next = after(holds, step, word);
      const state = key(next);
      if (seen.has(state)) continue;
      seen.add(state);
      queue.push(next);
    }
  }
  return reached;
}

describe.each(builtInProcedures.map((procedure) => [procedure.id, procedure] as const))(
  "%s",
  (_, procedure) => {
    it("can be brought to the end of every outcome by some order of steps", () => {
      expect([...reachableEnds(procedure)].sort()).toEqual([...JOB_OUTCOMES].sort());
    });

    it("needs nothing more for a job that was declined at the door", () => {
      expect(missingAtEnd(procedure, "declined", new Set(procedure.start))).toEqual([]);
    });

    it("walks its usual order without a need unmet, to a repaired end", () => {
      if (procedure.usual.length === 0) return expect(procedure.id).toBe("general");
      const { holds, unmet } = walk(procedure, procedure.usual);
      expect(unmet).toEqual([]);
      expect(missingAtEnd(procedure, "repaired", holds)).toEqual([]);
    });
  },
);

/** Histories written by hand, not derived from the files (technician's judgement, no source). */
describe("a history", () => {
  const of = (id: string, lines: readonly string[]) => {
    const procedure = builtInProcedure(id);
    if (!procedure) throw new Error(`${id} is not there`);
    return { procedure, ...walk(procedure, lines) };
  };

  it.each([
    ["lamp-moisture", ["assess: fog", "function check: pass"]],
    ["module-enclosure-leak", ["assess: none", "function check: pass"]],
    [
      "intake-leak",
      [
        "stop engine",
        "block inlet",
        "smoke",
        "locate: none",
        "relieve pressure",
        "unblock inlet",
        "road test: pass",
      ],
    ],
    ["cabin-water-leak", ["assess: none", "water test: pass", "function check: pass"]],
    ["general", ["assess: none"]],
  ])("of no fault found in %s ends clean", (id, lines) => {
    const { procedure, holds, unmet } = of(id, lines);
    expect(unmet).toEqual([]);
    expect(missingAtEnd(procedure, "no fault found", holds)).toEqual([]);
  });

  it("of a lamp sealed after soaping misses dry and clean", () => {
    const { unmet } = of("lamp-moisture", [
      "key off",
      "cap vents",
      "smoke",
      "locate",
      "relieve pressure",
      "uncap vents",
      "drain",
      "dry",
      "clean",
      "soap",
      "seal",
    ]);
    expect(unmet).toEqual(["seal needs dry", "seal needs clean"]);
  });

  it("of a lamp with its caps forgotten leaves them behind", () => {
    const { procedure, holds } = of("lamp-moisture", [
      "assess",
      "key off",
      "cap vents",
      "smoke",
      "locate: none",
      "pressure off",
    ]);
    expect(missingAtEnd(procedure, "no fault found", holds)).toContain("left: vents blocked");
  });

  it("of a fuel system smoked after a heat gun misses the removed ignition sources", () => {
    const { unmet } = of("evap-leak", ["make safe", "inspect", "connect", "close vent", "heat gun", "smoke"]);
    expect(unmet).toEqual(["pressurize needs ignition sources removed"]);
  });

  it("of a fuel system with liquid fuel found goes no further", () => {
    const { unmet } = of("evap-leak", ["make safe", "inspect: found", "connect", "close vent", "smoke"]);
    expect(unmet).toEqual(["pressurize needs no liquid fuel"]);
  });

  it("of a cooling system opened after the warm run misses the cold", () => {
    const { unmet } = of("cooling-pressure", [
      "confirm cold",
      "open cap",
      "fill",
      "bleed",
      "fit cap",
      "run engine",
      "open cap",
    ]);
    expect(unmet).toEqual(["open cap needs cold"]);
  });

  it("of a drained cooling system handed back leaves it drained", () => {
    const { procedure, holds } = of("cooling-pressure", ["confirm cold", "drain"]);
    expect(missingAtEnd(procedure, "declined", holds)).toEqual(["left: drained"]);
  });

  it("of a draw measured with a door opened misses the sleep", () => {
    const { unmet } = of("key-off-draw", [
      "test battery",
      "key off",
      "prepare",
      "zero clamp",
      "clamp on",
      "wait",
      "door",
      "measure",
    ]);
    expect(unmet).toEqual(["measure needs asleep"]);
  });

  it("of a boost test with the crankcase shut and no straps could go on only in words", () => {
    const { unmet } = of("boost-leak", ["stop engine", "cap inlet", "pressure up"]);
    // "caps restrained" can be said on the line itself, which this simple walk takes as said.
    expect(unmet).toEqual(["pressurize needs crankcase vented"]);
  });

  it("of an engine started with the tailpipe plugged misses the open tailpipe", () => {
    const { unmet } = of("exhaust-leak", ["stop engine", "confirm cold", "plug tailpipe", "start engine"]);
    expect(unmet).toEqual(["run engine needs outlet open"]);
  });

  it("of an engine run before the sealant cured is too early", () => {
    const { unmet } = of("crankcase-leak", ["stop engine", "locate", "clean", "seal", "start engine"]);
    expect(unmet).toEqual(["run engine needs no fresh sealant"]);
  });

  it("of a comparison switched off in between misses the warm tester", () => {
    const { unmet } = of("tester-comparison", [
      "inspect",
      "zero",
      "check bench",
      "power on",
      "connect",
      "warm up",
      "power off",
      "power on",
      "run tester",
      "measure flow",
    ]);
    expect(unmet).toEqual(["measure flow needs warm"]);
  });
});

describe("words that must not be taken for more than they say (technician's judgement, no source)", () => {
  const words = (id: string, name: string) =>
    builtInProcedure(id)
      ?.conditions.get(name)
      ?.shownBy?.flatMap((one) => ("words" in one ? one.words : [])) ?? [];

  it("a bare 12 V does not make a module low voltage, since high-voltage vehicles have a 12 V battery too", () => {
    expect(words("module-enclosure-leak", "low voltage")).not.toContain("12 V");
  });

  it("a clamped hose is no restrained cap, and a key out of range is no meter's range", () => {
    expect(words("boost-leak", "caps restrained")).not.toContain("clamped");
    expect(words("key-off-draw", "range known")).not.toContain("range");
  });

  it("a complaint about cold starts is no cool engine: the bare word counts on the step's own line only", () => {
    const shown = builtInProcedure("evap-leak")?.conditions.get("engine cool")?.shownBy ?? [];
    const bare = shown.filter((one) => "words" in one && one.words.includes("cold"));
    expect(bare).toHaveLength(1);
    expect(bare[0]).not.toHaveProperty("lasting");
  });
});
