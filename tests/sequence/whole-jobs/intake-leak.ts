import {
  COMEBACK,
  INCOMPLETE,
  instead,
  left,
  less,
  NEXT_DAY,
  needs,
  OPEN,
  uncured,
  upTo,
  type WholeJobs,
} from "./whole-job.ts";

const whole = [
  "09:00  stop engine: key off",
  "09:05  block inlet",
  "09:10  pressurize: smoke, 0.5 psi",
  "09:20  locate [elbow]: found, smoke",
  "09:30  relieve pressure",
  "09:40  repair [elbow]: clamp",
  "10:00  pressurize: smoke, 0.5 psi",
  "10:10  retest [elbow]: pass",
  "10:20  relieve pressure",
  "10:25  unblock inlet",
  "10:40  function check: pass",
];
const failed = instead(
  whole,
  "10:10  retest [elbow]: fail",
  "10:11  relieve pressure",
  "10:12  repair [elbow]",
);
const sealed = instead(upTo(whole, "09:40"), "09:40  seal [elbow]: silicone", "09:45  cure [elbow]");

export const intake: WholeJobs = {
  procedure: "intake-leak",
  ways: [
    { kind: "clean", says: "in order", job: { steps: whole }, expected: [] },
    {
      kind: "clean",
      says: "the plug is still in when the engine runs",
      job: { steps: less(whole, "10:25") },
      expected: [left("block inlet"), needs("function check")],
    },
    {
      kind: "retest failed and done again",
      says: "mended again and tested again",
      job: {
        steps: instead(
          failed,
          "10:12  repair [elbow]",
          "10:14  pressurize: smoke, 0.5 psi",
          "10:18  retest [elbow]: pass",
        ),
      },
      expected: [],
    },
    {
      kind: "retest failed and done again",
      says: "mended again, and nobody tested it",
      job: { steps: failed },
      expected: [INCOMPLETE],
    },
    {
      kind: "two places",
      says: "one test of the whole tract covers both",
      job: {
        steps: instead(
          instead(
            instead(whole, "09:20  locate [elbow]: found", "09:25  locate [gasket]: found"),
            "09:40  repair [elbow]",
            "09:50  replace [gasket]",
          ),
          "10:10  retest: pass",
        ),
      },
      expected: [],
    },
    {
      kind: "two places",
      says: "the second one was never found by anybody",
      job: {
        steps: instead(
          instead(whole, "09:40  repair [elbow]", "09:50  replace [gasket]"),
          "10:10  retest: pass",
        ),
      },
      expected: [needs("replace [gasket]")],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new elbow has nothing to cure",
      job: { outcome: "replaced", steps: instead(whole, "09:40  replace [elbow]: new one") },
      expected: [],
    },
    {
      kind: "replaced instead of sealed",
      says: "pulled off under pressure",
      job: { outcome: "replaced", steps: instead(less(whole, "09:30"), "09:40  replace [elbow]: new one") },
      expected: [needs("replace [elbow]")],
    },
    {
      kind: "overnight",
      says: "sealed, and tested when the night and the morning had cured it",
      job: { steps: [...sealed, NEXT_DAY, ...whole.slice(6)] },
      expected: [],
    },
    {
      kind: "overnight",
      says: "tested on the same morning, and finished on the day after",
      job: { steps: [...sealed, ...whole.slice(6, 9), NEXT_DAY, ...whole.slice(9)] },
      expected: [uncured("pressurize"), uncured("retest [elbow]")],
    },
    {
      kind: "no fault found",
      says: "looked for under pressure",
      job: {
        outcome: "no fault found",
        steps: instead(less(whole, "09:30", "09:40", "10:00", "10:10"), "09:20  locate: none"),
      },
      expected: [],
    },
    {
      kind: "no fault found",
      says: "the line says that a leak was found",
      job: { outcome: "no fault found", steps: less(whole, "09:30", "09:40", "10:00", "10:10") },
      expected: [INCOMPLETE],
    },
    {
      kind: "handed over",
      says: "with the pressure off, and finished by the next one",
      job: { steps: instead(whole, "09:30  relieve pressure", "09:35  hand over: tech 3") },
      expected: [],
    },
    {
      kind: "handed over",
      says: "with smoke in the tract",
      job: { status: "open", steps: [...upTo(whole, "09:20"), "09:25  hand over: tech 3"] },
      expected: [OPEN, needs("hand over")],
    },
    {
      kind: "comeback",
      says: "looked for from the beginning",
      job: { ...COMEBACK, steps: whole },
      expected: [],
    },
    {
      kind: "comeback",
      says: "the same elbow mended on a guess; what was found the last time does not count",
      job: { ...COMEBACK, steps: less(whole, "09:10", "09:20", "09:30") },
      expected: [needs("repair [elbow]")],
    },
  ],
};
