// The mend: the shortest way to the end, which changes nothing that was done.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { completeProcedure, type Procedure, type Step } from "../../server/src/procedures/procedure.ts";
import type { ProcedureFile } from "../../server/src/procedures/procedure-schema.ts";
import { planFor } from "../../server/src/sequence/mend.ts";
import { makeProblem } from "../../server/src/sequence/problem.ts";
import { cheapestRun } from "../../server/src/sequence/search.ts";
import type { Problem } from "../../server/src/sequence/strips.ts";
import { asDone, Clerk, remarkFor } from "./doing.ts";
import { addedBy, historyFor, listed, mended, noteOf, procedureOf } from "./job.ts";

const HEAD = ["date: 2031-03-04"];

describe("the mend", () => {
  it("appends what brings a lamp with forgotten caps to its end", () => {
    const before = noteOf({
      procedure: "lamp-moisture",
      status: "done",
      outcome: "declined",
      head: HEAD,
      steps: ["08:40  assess: droplets", "08:50  isolate power", "08:55  block vents"],
    });
    expect(addedBy(before, mended(before))).toEqual(["--:--  unblock vents", "--:--  restore power"]);
  });

  it("does not hand a job over again that was handed over under pressure", () => {
    const before = noteOf({
      procedure: "lamp-moisture",
      status: "done",
      outcome: "declined",
      head: HEAD,
      steps: [
        "08:50  isolate power",
        "08:55  block vents",
        "09:00  pressurize: smoke, 0.5 psi",
        "09:10  hand over: to tech 2",
      ],
    });
    expect(addedBy(before, mended(before))).toEqual([
      "--:--  relieve pressure",
      "--:--  unblock vents",
      "--:--  restore power",
    ]);
  });

  describe("takes a new cap on a cooling system", () => {
    const opened = [
      "07:30  stop engine: key off",
      "07:40  confirm cold: 19 degC",
      "07:45  open cap",
      "07:50  fill: 1 L",
      "07:55  bleed",
    ];
    const stepsAfter = (...steps: readonly string[]) => {
      const before = noteOf({
        procedure: "cooling-pressure",
        status: "open",
        head: HEAD,
        steps: [...opened, ...steps],
      });
      return addedBy(before, mended(before)).map((line) => line.replace("--:--  ", ""));
    };
    it("for the repair where the old one failed its test, and proves the system tight with it", () => {
      expect(stepsAfter("08:00  test cap: fail, opens at 9 psi")).toEqual([
        "replace cap",
        "fit tester",
        "pressurize",
        "retest",
        "relieve pressure",
        "remove tester",
        "fit cap",
        "warm run",
        "confirm cold",
        "recheck level",
      ]);
    });

    it("for no repair of a leak that was located", () => {
      const steps = stepsAfter(
        "08:00  test cap: fail",
        "08:05  fit tester",
        "08:10  pressurize: 14 psi",
        "08:20  locate [outlet]: found, drips",
      );
      expect(steps).toContain("repair [outlet]");
      expect(steps).toContain("replace cap");
    });

    it("for no way past looking for the leak where the old one was not tested", () => {
      const steps = stepsAfter();
      expect(steps).toContain("locate");
      expect(steps).toContain("repair");
    });
  });

  it("puts what is missing between steps still to do, and keeps those", () => {
    const before = noteOf({
      procedure: "lamp-moisture",
      status: "open",
      head: HEAD,
      steps: [
        "08:40  assess: droplets",
        "08:50  isolate power",
        "08:55  locate [seam]: found, crack seen",
        "--:--  seal [seam]: flowable silicone",
        "--:--  function check",
      ],
    });
    const steps = mended(before).split("```steps\n")[1]?.split("\n```")[0]?.split("\n") ?? [];
    expect(steps.slice(3)).toEqual([
      "--:--  drain",
      "--:--  dry",
      "--:--  inspect",
      "--:--  clean [seam]",
      "--:--  seal [seam]: flowable silicone",
      "--:--  cure [seam]",
      "--:--  refit",
      "--:--  restore power",
      "--:--  function check",
      "--:--  water test [seam]",
    ]);
  });

  it("orders steps still to do, and moves their lines as they are written", () => {
    const before = noteOf({
      procedure: "lamp-moisture",
      status: "open",
      head: HEAD,
      steps: [
        "08:50  isolate power",
        "08:55  locate [seam]: found, crack seen",
        "09:00  drain",
        "--:--  seal [seam]: silicone, 16 cm",
        "--:--  clean [seam]: with alcohol",
        "--:--  dry: fan  # borrow it from the paint shop",
        "--:--  inspect",
      ],
    });
    const steps = mended(before).split("```steps\n")[1]?.split("\n```")[0]?.split("\n") ?? [];
    expect(steps.slice(3, 7)).toEqual([
      "--:--  dry: fan  # borrow it from the paint shop",
      "--:--  inspect",
      "--:--  clean [seam]: with alcohol",
      "--:--  seal [seam]: silicone, 16 cm",
    ]);
  });

  it("does again what was done before its time", () => {
    const before = noteOf({
      procedure: "general",
      head: HEAD,
      steps: ["08:40  seal [cover]: silicone", "09:00  water test [cover]: pass"],
    });
    expect(addedBy(before, mended(before))).toEqual(["--:--  cure [cover]", "--:--  water test [cover]"]);
  });

  it("keeps to the quotation or the list that the steps stand in", () => {
    const before =
      "---\njob: 1\nprocedure: general\nstatus: open\n---\n\n> ```steps\n> 08:40  isolate power\n> ```\n";
    expect(mended(before)).toContain(
      "> 08:40  isolate power\n> --:--  restore power\n> --:--  function check\n> ```\n",
    );
  });

  it("begins a block of steps where a finished note has none", () => {
    const before = "---\njob: 1\nprocedure: general\nstatus: done\noutcome: repaired\n---\n";
    expect(mended(before)).toBe(`${before}\n\`\`\`steps\n--:--  function check\n\`\`\`\n`);
  });
});

// ---- Random histories ---------------------------------------------------------------------------------

const PLACES = [undefined, "upper seam", "lower seam"] as const;

/** A step of the procedure at random, with any outcome that it can have, at some place. */
const anyLine = (procedure: Procedure) =>
  fc.record({
    step: fc.constantFrom(...procedure.steps.filter((step) => !step.special)),
    word: fc.nat(3),
    place: fc.constantFrom(...PLACES),
    gap: fc.constantFrom(5, 20, 60, 26 * 60),
    planned: fc.constantFrom(false, false, false, true),
  });

interface Made {
  readonly step: Step;
  readonly word: number;
  readonly place: (typeof PLACES)[number];
  readonly gap: number;
  readonly planned: boolean;
}

function linesOf(made: readonly Made[], procedure: Procedure): string[] {
  const clerk = new Clerk();
  for (const { step, word, place, gap, planned } of made) {
    const at = place !== undefined && step.perPlace ? ` [${place}]` : "";
    if (planned) {
      clerk.lines.push(`--:--  ${step.name}${at}`);
      continue;
    }
    clerk.now += gap;
    const words = step.outcome?.split(/, | or /) ?? [];
    const outcome = words.length === 0 ? undefined : words[word % words.length];
    const remark = remarkFor(step, procedure, outcome);
    clerk.write(`${step.name}${at}${remark === "" ? "" : `: ${remark}`}`);
  }
  return clerk.lines;
}

const doneLines = (text: string): readonly string[] =>
  text.split("\n").filter((line) => /^(?:\d\d:\d\d|\d{4}-)/.test(line));

const job = (procedure: Procedure, made: readonly Made[], status: "open" | "done"): string =>
  noteOf({
    procedure: procedure.id,
    status,
    head: ["date: 2031-03-04"],
    steps: linesOf(made, procedure),
    limits: ["test pressure <= 1 kPa  source: service information"],
  });

describe.each(builtInProcedures.map((procedure) => [procedure.id, procedure] as const))(
  "random histories of %s",
  (_, procedure) => {
    const histories = fc.array(anyLine(procedure), { maxLength: 14 });
    const runs = { numRuns: 40, seed: 20310304 };

    it("change nothing that was done, and a mended note needs no mend", () => {
      fc.assert(
        fc.property(histories, (made) => {
          const before = job(procedure, made, "open");
          const after = mended(before);
          expect(doneLines(after)).toEqual(doneLines(before));
          expect(mended(after)).toBe(after);
          // Lines still to do may move, and are never lost.
          const planned = (text: string) => text.split("\n").filter((line) => line.startsWith("--:--"));
          for (const line of planned(before)) expect(planned(after)).toContain(line);
        }),
        runs,
      );
    });

    it("come to a clean end once the steps of the mend are done in order", () => {
      fc.assert(
        fc.property(histories, (made) => {
          const done = made.filter(({ planned }) => !planned);
          const after = asDone(mended(job(procedure, done, "done")), procedure);
          expect(listed(after).filter((finding) => finding.startsWith("error"))).toEqual([]);
        }),
        runs,
      );
    });
  },
);

// ---- Shortest -----------------------------------------------------------------------------------------

/** How many steps the shortest run has, by breadth-first search over everything: slow, and plain to see. */
function exhaustive(problem: Problem, most: number): number | undefined {
  const key = (facts: ReadonlySet<number>) => [...facts].sort((a, b) => a - b).join(" ");
  let level: ReadonlySet<number>[] = [new Set(problem.start)];
  const seen = new Set(level.map(key));
  for (let steps = 0; steps <= most; steps++) {
    const next: ReadonlySet<number>[] = [];
    for (const facts of level) {
      if (problem.moves.some((move) => !move.step && move.needs.every((fact) => facts.has(fact))))
        return steps;
      for (const move of problem.moves) {
        if (!move.step || !move.needs.every((fact) => facts.has(fact))) continue;
        const after = new Set(facts);
        for (const fact of move.removes) after.delete(fact);
        for (const fact of move.adds) after.add(fact);
        const made = key(after);
        if (seen.has(made)) continue;
        seen.add(made);
        next.push(after);
      }
    }
    level = next;
  }
  return undefined;
}

/** A small procedure at random: steps that need, make and undo a few conditions. */
const smallProcedure = fc
  .record({
    start: fc.subarray(["a", "b", "c", "d", "e", "f"], { minLength: 1 }),
    end: fc.subarray(["a", "b", "c", "d", "e", "f"], { minLength: 1, maxLength: 4 }),
    steps: fc.array(
      fc.record({
        needs: fc.subarray(["a", "b", "c", "d", "e", "f"], { maxLength: 3 }),
        not: fc.subarray(["a", "b", "c", "d", "e", "f"], { maxLength: 1 }),
        either: fc.subarray(["a", "b", "c", "d", "e", "f"], { maxLength: 2 }),
        makes: fc.subarray(["a", "b", "c", "d", "e", "f"], { minLength: 1, maxLength: 2 }),
        undoes: fc.subarray(["a", "b", "c", "d", "e", "f"], { maxLength: 2 }),
      }),
      { minLength: 3, maxLength: 9 },
    ),
  })
  .map(({ start, end, steps }): Procedure => {
    const why = "A test.";
    const file: ProcedureFile = {
      id: "small",
      title: "Small",
      covers: "A test.",
      cautions: ["Take care."],
      defer: ["the maker"],
      conditions: Object.fromEntries([..."abcdef"].map((name) => [name, { says: name }])),
      start,
      end: {
        repaired: end,
        replaced: end,
        "no fault found": end,
        declined: end,
        "diagnosis only": end,
      },
      steps: steps.map(({ needs, not, either, makes, undoes }, i) => ({
        name: `step ${i}`,
        needs: [
          ...(needs.length > 0 ? [{ all: needs, why }] : []),
          ...(either.length > 0 ? [{ anyOf: either, why }] : []),
          ...not.map((name) => ({ all: [{ not: name }], why })),
        ],
        makes,
        undoes,
      })),
      usual: [],
    };
    return completeProcedure(file, { steps: [], limits: [] });
  });

describe("the search", () => {
  it("finds a run as short as an exhaustive search does, in small procedures", () => {
    fc.assert(
      fc.property(smallProcedure, (procedure) => {
        const history = historyFor(procedure, []);
        const problem = makeProblem({
          history,
          state: history.after,
          outcome: "repaired",
          planned: [],
          again: [],
        });
        const run = cheapestRun(problem);
        expect(run?.length).toBe(exhaustive(problem, 12));
      }),
      { numRuns: 400, seed: 20310304 },
    );
  });

  it.each(
    builtInProcedures.flatMap((procedure) =>
      (["no fault found", "declined", "diagnosis only"] as const).map((outcome) => ({
        id: procedure.id,
        procedure,
        outcome,
      })),
    ),
  )("is as short as an exhaustive one for $id, $outcome", ({ procedure, outcome }) => {
    const history = historyFor(procedure, []);
    const problem = makeProblem({ history, state: history.after, outcome, planned: [], again: [] });
    const run = cheapestRun(problem);
    expect(run?.length).toBe(exhaustive(problem, 9) ?? run?.length);
    expect(run).toBeDefined();
  });

  it("is fast with forty conditions in a chain that undo each other", () => {
    const why = "A test.";
    const names = Array.from({ length: 40 }, (_, i) => `condition ${i}`);
    const file: ProcedureFile = {
      id: "forty",
      title: "Forty",
      covers: "A test.",
      cautions: ["Take care."],
      defer: ["the maker"],
      conditions: Object.fromEntries(names.map((name) => [name, { says: name }])),
      start: ["condition 0"],
      end: {
        repaired: names,
        replaced: names,
        "no fault found": names,
        declined: names,
        "diagnosis only": names,
      },
      // Each needs the two before it; every seventh undoes one that was made long ago.
      steps: names.map((name, i) => ({
        name: `make ${name}`,
        ...(i === 0 ? {} : { needs: [{ all: names.slice(Math.max(0, i - 2), i), why }] }),
        makes: [name],
        ...(i % 7 === 6 ? { undoes: [names[i - 5] ?? ""] } : {}),
      })),
      usual: [],
    };
    const procedure = completeProcedure(file, { steps: [], limits: [] });
    const history = historyFor(procedure, []);
    const started = performance.now();
    const plan = planFor(history, "repaired");
    const took = performance.now() - started;
    expect(plan.complete).toBe(true);
    // Forty less the one that holds, and the five that are undone and made again.
    expect(plan.lines.length).toBe(39 + 5);
    expect(took).toBeLessThan(1500);
  });
});

describe("a note with much that went wrong", () => {
  it("is planned in bounded time, with twenty places", () => {
    const places = Array.from({ length: 20 }, (_, i) => `place ${i}`);
    const steps = ["08:00  isolate power", ...places.map((place) => `08:10  seal [${place}]: silicone`)];
    const history = historyFor(procedureOf("lamp-moisture"), steps);
    const started = performance.now();
    planFor(history, "repaired");
    expect(performance.now() - started).toBeLessThan(8000);
  });
});
