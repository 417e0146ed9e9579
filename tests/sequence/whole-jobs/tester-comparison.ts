import {
  COMEBACK,
  INCOMPLETE,
  instead,
  left,
  less,
  NEXT_DAY,
  needs,
  OPEN,
  unfair,
  upTo,
  type WholeJobs,
} from "./whole-job.ts";

const BENCH = {
  outcome: "diagnosis only",
  limits: ["test pressure <= 20 inH2O   source: marking of the bench"],
};
const whole = [
  "09:00  inspect [A]: none",
  "09:02  inspect [B]: none",
  "09:05  zero gauges",
  "09:10  check bench: pass",
  "09:15  supply power: fused",
  "09:16  warm up [A]: 14 min",
  "09:17  warm up [B]: 14 min",
  "09:35  connect [A]",
  "09:40  pressurize [A]",
  "09:45  measure pressure [A]: 12 inH2O",
  "09:50  relieve pressure",
  "09:52  disconnect [A]",
  "10:00  connect [B]",
  "10:05  pressurize [B]",
  "10:10  measure pressure [B]: 11 inH2O",
  "10:15  relieve pressure",
  "10:20  disconnect [B]",
  "10:25  compare",
  "10:30  switch off",
];
const oncemore = [
  "11:10  inspect [A]: none",
  "11:15  supply power: fused",
  "11:16  warm up [A]: 14 min",
  "11:35  connect [A]",
  "11:40  pressurize [A]",
  "11:45  measure pressure [A]: 12 inH2O",
  "11:50  relieve pressure",
  "11:52  disconnect [A]",
  "11:55  compare",
  "11:58  switch off",
];
const renewed = [...whole, "11:00  replace [A]: hose", ...oncemore];
const evening = [
  ...upTo(whole, "09:52"),
  "09:55  switch off",
  NEXT_DAY,
  "08:00  zero gauges",
  "08:05  check bench: pass",
  "08:10  supply power: fused",
  "08:15  warm up [B]: 14 min",
  ...whole.slice(12),
];

export const testers: WholeJobs = {
  procedure: "tester-comparison",
  ways: [
    { kind: "clean", says: "in order", job: { ...BENCH, steps: whole }, expected: [] },
    {
      kind: "clean",
      says: "the supply left on",
      job: { ...BENCH, steps: less(whole, "10:30") },
      expected: [left("supply power")],
    },
    // Nothing is mended that a retest could fail; the bench is what may fail its own test.
    {
      kind: "retest failed and done again",
      says: "the bench leaked, and was checked again",
      job: { ...BENCH, steps: instead(whole, "09:10  check bench: fail, hose", "09:13  check bench: pass") },
      expected: [],
    },
    {
      kind: "retest failed and done again",
      says: "measured on a bench that leaks",
      job: { ...BENCH, steps: instead(whole, "09:10  check bench: fail, hose") },
      expected: [unfair("measure pressure [A]"), unfair("measure pressure [B]")],
    },
    // The places are the testers.
    { kind: "two places", says: "both testers warm", job: { ...BENCH, steps: whole }, expected: [] },
    {
      kind: "two places",
      says: "one of them cold",
      job: { ...BENCH, steps: less(whole, "09:17") },
      expected: [unfair("measure pressure [B]")],
    },
    {
      kind: "two places",
      says: "both on the bench at once, and the first one off again",
      job: {
        ...BENCH,
        steps: instead(less(whole, "10:00"), "09:35  connect [A]", "09:36  connect [B]"),
      },
      expected: [],
    },
    {
      kind: "two places",
      says: "places written at some steps only",
      job: {
        ...BENCH,
        steps: instead(instead(whole, "09:35  connect: tester A"), "10:05  pressurize: tester B"),
      },
      expected: [],
    },
    {
      kind: "two places",
      says: "the second one measured while the first one blows",
      job: {
        ...BENCH,
        steps: instead(
          whole,
          "09:45  measure pressure [A]: 12 inH2O",
          "09:46  measure pressure [B]: 11 inH2O",
        ),
      },
      // Put right when B was measured by itself.
      expected: ["info sequence/needs: measure pressure [B]"],
    },
    {
      kind: "two places",
      says: "the first one off, the second one still on the bench",
      job: {
        ...BENCH,
        steps: instead(less(whole, "10:00", "10:20"), "09:35  connect [A]", "09:36  connect [B]"),
      },
      expected: [left("connect [B]")],
    },
    // Nothing is sealed on a tester; a new hose after the comparison is what comes next to it.
    {
      kind: "replaced instead of sealed",
      says: "looked over, measured and compared again with its new hose",
      job: { ...BENCH, outcome: "replaced", steps: renewed },
      expected: [],
    },
    {
      kind: "replaced instead of sealed",
      says: "the comparison is the one of the old hose",
      job: { ...BENCH, outcome: "replaced", steps: upTo(renewed, "11:00") },
      expected: [INCOMPLETE],
    },
    {
      kind: "replaced instead of sealed",
      says: "nobody looked over what was fitted",
      job: { ...BENCH, outcome: "replaced", steps: less(renewed, "11:10") },
      expected: [needs("connect [A]")],
    },
    {
      kind: "overnight",
      says: "zeroed, checked and warmed up again in the morning",
      job: { ...BENCH, steps: evening },
      expected: [],
    },
    {
      kind: "overnight",
      says: "not zeroed again, and cold",
      job: { ...BENCH, steps: less(evening, "08:00", "08:15") },
      expected: [needs("check bench"), unfair("measure pressure [B]"), unfair("measure pressure [B]")],
    },
    {
      kind: "no fault found",
      says: "both measured and compared",
      job: { ...BENCH, outcome: "no fault found", steps: whole },
      expected: [],
    },
    {
      kind: "no fault found",
      says: "measured, and never compared",
      job: { ...BENCH, outcome: "no fault found", steps: less(whole, "10:25") },
      expected: [INCOMPLETE],
    },
    {
      kind: "handed over",
      says: "with the pressure off, and finished by the next one",
      job: { ...BENCH, steps: instead(whole, "09:52  disconnect [A]", "09:55  hand over: tech 3") },
      expected: [],
    },
    {
      kind: "handed over",
      says: "with the tester running",
      job: {
        limits: BENCH.limits,
        status: "open",
        steps: [...upTo(whole, "09:45"), "09:48  hand over: tech 3"],
      },
      expected: [OPEN, needs("hand over")],
    },
    {
      kind: "comeback",
      says: "looked over and measured from the beginning",
      job: { ...BENCH, ...COMEBACK, steps: whole },
      expected: [],
    },
    {
      kind: "comeback",
      says: "put on the bench as it came back, without a look at its hoses",
      job: { ...BENCH, ...COMEBACK, steps: less(whole, "09:00") },
      expected: [needs("connect [A]")],
    },
  ],
};
