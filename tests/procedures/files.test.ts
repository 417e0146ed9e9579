import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import * as z from "zod/mini";
import { generate } from "../../server/build/generate-procedures.mjs";
import { builtInProcedure, builtInProcedures } from "../../server/src/procedures/load.ts";
import { plainWords, termsOf } from "../../server/src/procedures/procedure.ts";
import {
  commonSchema,
  type EndTerm,
  type Evidence,
  OUTCOME_WORDS,
  procedureSchema,
} from "../../server/src/procedures/procedure-schema.ts";
import { commonFile, procedureFiles } from "../../server/src/procedures/procedures.generated.ts";
import { readUnit } from "../../server/src/units/unit-reader.ts";

const folder = new URL("../../server/src/procedures/", import.meta.url);
const text = (name: string) => readFileSync(new URL(name, folder), "utf8");

/** The twelve ids, from the domain design. */
const IDS = [
  "lamp-moisture",
  "module-enclosure-leak",
  "evap-leak",
  "intake-leak",
  "boost-leak",
  "cooling-pressure",
  "cabin-water-leak",
  "exhaust-leak",
  "crankcase-leak",
  "key-off-draw",
  "tester-comparison",
  "general",
];

const endNames = (term: EndTerm): string[] => {
  if (typeof term === "string") return [term];
  if ("not" in term) return [term.not];
  return term.anyOf.flatMap(endNames);
};

describe("the procedure files", () => {
  it("are the twelve of the design, and no other", () => {
    const files = readdirSync(folder).filter((name) => name.endsWith(".yaml"));
    expect(files.sort()).toEqual([...IDS, "common-steps"].map((id) => `${id}.yaml`).sort());
    expect(builtInProcedures.map((procedure) => procedure.id)).toEqual(IDS);
  });

  it.each(IDS)("%s passes the schema and is named after its id", (id) => {
    const read = procedureSchema.safeParse(parse(text(`${id}.yaml`)));
    if (!read.success) throw new Error(z.prettifyError(read.error));
    expect(read.data.id).toBe(id);
  });

  it("has common steps that pass the schema and change no condition", () => {
    const read = commonSchema.safeParse(parse(text("common-steps.yaml")));
    if (!read.success) throw new Error(z.prettifyError(read.error));
    // A condition is a procedure's own, so a step that serves all of them can make and undo none.
    expect(read.data.steps.filter((step) => step.makes ?? step.undoes)).toEqual([]);
  });

  it("gives the generated module that is kept", () => {
    expect(text("procedures.generated.ts"), "run: node server/build/generate-procedures.mjs").toBe(
      generate(),
    );
    expect(procedureFiles).toEqual(IDS.map((id) => parse(text(`${id}.yaml`))));
    expect(commonFile).toEqual(parse(text("common-steps.yaml")));
  });

  it("refuses a misspelt key", () => {
    const file = parse(text("general.yaml"));
    expect(procedureSchema.safeParse({ ...file, caution: ["one"] }).success).toBe(false);
    expect(procedureSchema.safeParse({ ...file, cautions: [] }).success).toBe(false);
  });
});

describe.each(builtInProcedures.map((procedure) => [procedure.id, procedure] as const))(
  "%s",
  (_, procedure) => {
    const declared = new Set(procedure.conditions.keys());
    const stepNames = new Set(procedure.steps.map((step) => step.name));
    const effects = procedure.steps.flatMap((step) => [step, ...Object.values(step.byOutcome ?? {})]);
    const made = new Set(effects.flatMap((effect) => effect.makes ?? []));
    const holdable = (name: string) =>
      made.has(name) ||
      procedure.start.includes(name) ||
      procedure.conditions.get(name)?.shownBy !== undefined;
    const evidence: Evidence[] = [
      ...[...procedure.conditions.values()].flatMap((condition) => condition.shownBy ?? []),
      ...procedure.steps.flatMap((step) => step.evidence?.anyOf ?? []),
    ];

    it("declares every condition that it names", () => {
      const named = [
        ...procedure.start,
        ...Object.values(procedure.end).flatMap((terms) => terms.flatMap(endNames)),
        ...procedure.steps.flatMap((step) => step.needs.flatMap(termsOf)),
        ...effects.flatMap((effect) => [...(effect.makes ?? []), ...(effect.undoes ?? [])]),
        ...procedure.steps.flatMap((step) => (step.countsAs ? [step.countsAs.while] : [])),
        ...[...procedure.conditions.values()].flatMap(({ opposite, takes }) =>
          [opposite ?? [], takes?.since ?? []].flat(),
        ),
      ];
      expect([...new Set(named)].filter((name) => !declared.has(name))).toEqual([]);
    });

    it("uses every condition that it declares", () => {
      const used = new Set([
        ...Object.values(procedure.end).flatMap((terms) => terms.flatMap(endNames)),
        ...procedure.steps.flatMap((step) => step.needs.flatMap(termsOf)),
        ...[...procedure.conditions.values()].flatMap((condition) => condition.opposite ?? []),
        ...[...procedure.conditions].flatMap(([name, { mustBeUndone, takes }]) =>
          mustBeUndone || takes ? name : [],
        ),
      ]);
      expect([...declared].filter((name) => !used.has(name))).toEqual([]);
    });

    it("can make, start with or show every condition that a step needs or the end demands", () => {
      const wanted = procedure.steps.flatMap((step) =>
        step.needs.flatMap((need) =>
          ("all" in need ? need.all : need.anyOf).filter((term) => typeof term === "string"),
        ),
      );
      const ends = Object.values(procedure.end).flatMap((terms) => terms.flatMap(endNames));
      expect([...wanted, ...ends].filter((name) => !holdable(name))).toEqual([]);
    });

    it("keeps opposites apart: whatever makes the one undoes the other", () => {
      for (const [name, { opposite }] of procedure.conditions) {
        if (opposite === undefined) continue;
        expect(procedure.conditions.get(opposite)?.opposite, `${name} and ${opposite}`).toBe(name);
        const lopsided = effects.filter(
          (effect) => effect.makes?.includes(name) && !effect.undoes?.includes(opposite),
        );
        expect(lopsided, `${name} without undoing ${opposite}`).toEqual([]);
        expect(procedure.start.includes(name) && procedure.start.includes(opposite)).toBe(false);
      }
    });

    it("lets something undo whatever must be undone", () => {
      const undone = new Set(effects.flatMap((effect) => effect.undoes ?? []));
      const stuck = [...procedure.conditions].filter(([name, c]) => c.mustBeUndone && !undone.has(name));
      expect(stuck.map(([name]) => name)).toEqual([]);
    });

    it("knows each word for one step only", () => {
      const words = procedure.steps.flatMap((step) => [step.name, ...step.aliases].map(plainWords));
      const seen = new Set<string>();
      expect(words.filter((word) => seen.size === seen.add(word).size)).toEqual([]);
    });

    it("gives outcomes only words of their kind", () => {
      for (const step of procedure.steps) {
        const words: readonly string[] = step.outcome ? OUTCOME_WORDS[step.outcome] : [];
        const named = [...(step.provedBy ?? []), ...Object.keys(step.byOutcome ?? {})];
        expect(
          named.filter((word) => !words.includes(word)),
          step.name,
        ).toEqual([]);
      }
    });

    it("refers to steps that it knows", () => {
      const named = [
        ...procedure.usual,
        ...procedure.readings.flatMap((reading) => reading.when ?? []),
        ...procedure.limits.flatMap((limit) => limit.of.steps),
        ...(procedure.medium?.steps ?? []),
        ...procedure.steps.flatMap((step) => step.countsAs?.step ?? []),
        ...evidence.flatMap((one) => ("step" in one ? one.step : [])),
      ];
      expect(named.filter((name) => !stepNames.has(name))).toEqual([]);
    });

    it("reads in a limit's steps the dimension that the limit is about", () => {
      for (const { of } of procedure.limits) {
        const blind = procedure.steps.filter(
          (step) => of.steps.includes(step.name) && !step.reads.includes(of.reads),
        );
        expect(blind.map((step) => step.name)).toEqual([]);
      }
    });

    it("spells quantities and units as the unit table does", () => {
      const quantities = [
        ...evidence.flatMap((one) =>
          ["atLeast" in one ? one.atLeast : [], "atMost" in one ? one.atMost : []].flat(),
        ),
        ...procedure.limits.flatMap((limit) => [limit.warnAbove, limit.errorAbove, limit.errorFrom]),
        ...[...procedure.conditions.values()].map((condition) => condition.takes?.otherwise),
      ].filter((quantity) => typeof quantity === "string");
      const units = [
        ...quantities.map((quantity) => quantity.slice(quantity.indexOf(" ") + 1)),
        ...procedure.readings.flatMap((reading) => reading.unit ?? []),
      ];
      expect(units.filter((unit) => !readUnit(unit).ok)).toEqual([]);
    });

    it("warns before it calls something an error, and names a source", () => {
      for (const limit of procedure.limits) {
        expect(limit.source.length, limit.assembly).toBeGreaterThan(0);
        expect(limit.errorAbove ?? limit.errorFrom, limit.assembly).toBeDefined();
      }
    });

    it("has cautions in whole sentences, and says whom to defer to", () => {
      expect(procedure.cautions.length).toBeGreaterThanOrEqual(3);
      expect(procedure.cautions.filter((caution) => !/^[A-Z].*\.$/.test(caution))).toEqual([]);
      expect(procedure.defer.length).toBeGreaterThan(0);
      const whys = procedure.steps.flatMap((step) => step.needs.map((need) => need.why));
      expect(whys.filter((why) => !/^[A-Z].*\.$/.test(why))).toEqual([]);
    });

    it("knows the steps that every job may have", () => {
      const words = [
        "photo",
        "note",
        "call customer",
        "hand over",
        "leave",
        "weigh",
        "order part",
        "wait",
        "clean",
        "blow out",
      ];
      expect(words.filter((word) => !procedure.stepsByWords.has(word))).toEqual([]);
    });

    it("hands over without pressure only", () => {
      const handOver = procedure.steps.find((step) => step.special === "hand over");
      const asked = handOver?.needs.flatMap(termsOf);
      expect(asked).toEqual(declared.has("pressure off") ? ["pressure off"] : []);
    });
  },
);

it("finds a procedure by its id", () => {
  expect(builtInProcedure("boost-leak")?.title).toBe("Leak in a boost tract");
  expect(builtInProcedure("no such")).toBeUndefined();
});
