import {
  COMEBACK,
  INCOMPLETE,
  instead,
  left,
  less,
  NEXT_DAY,
  needs,
  OPEN,
  upTo,
  type WholeJobs,
} from "./whole-job.ts";

const MARKED = { readings: ["lowest marking: 16 psi", "test pressure: 14 psi"] };
const whole = [
  "07:30  stop engine: key off",
  "07:40  confirm cold: 19 degC",
  "07:45  open cap",
  "07:50  fill: 0.9 L",
  "08:00  test cap: pass",
  "08:05  fit tester",
  "08:10  pressurize: 14 psi",
  "08:26  locate [outlet]: found, drips",
  "08:40  relieve pressure",
  "08:45  drain: 6 L",
  "09:00  repair [outlet]: clamp",
  "09:40  fill: 6 L",
  "09:55  bleed",
  "10:05  pressurize: 14 psi",
  "10:30  retest [outlet]: pass",
  "10:35  relieve pressure",
  "10:40  remove tester",
  "10:42  fit cap",
  "10:50  warm run: pass",
  "11:30  stop engine",
  "16:00  confirm cold: 24 degC",
  "16:05  recheck level: pass",
];
const failed = [
  ...upTo(whole, "10:05"),
  "10:06  retest [outlet]: fail, drips again",
  "10:08  relieve pressure",
  "10:10  drain: 6 L",
  "10:12  replace [outlet]: hose",
  "10:20  fill: 6 L",
  "10:25  bleed",
  "10:28  pressurize: 14 psi",
  ...whole.slice(14),
];
const sealed = instead(upTo(whole, "09:00"), "09:00  seal [outlet]: liquid gasket", "09:05  cure [outlet]");
const found = instead(whole, "08:26  locate [outlet]: found", "08:30  locate [pump]: found, weeps");
const none = [
  ...upTo(whole, "08:10"),
  "08:26  locate: none",
  ...whole.slice(15, 18),
  "10:50  recheck level: pass",
];
/** A cap that opens too early loses coolant, and a new one is the whole repair. */
const capped = [
  ...upTo(whole, "07:50"),
  "07:55  bleed",
  "08:00  test cap: fail, opens at 9 psi",
  "08:02  replace cap",
  "08:05  fit tester",
  "08:10  pressurize: 14 psi",
  "08:26  locate: none",
  "08:36  retest: pass",
  ...whole.slice(15),
];

export const cooling: WholeJobs = {
  procedure: "cooling-pressure",
  ways: [
    { kind: "clean", says: "in order", job: { ...MARKED, steps: whole }, expected: [] },
    {
      kind: "clean",
      says: "the tester still on while it warms up",
      job: { ...MARKED, steps: less(whole, "10:40") },
      expected: [left("fit tester"), "warning sequence/needs: warm run"],
    },
    {
      kind: "retest failed and done again",
      says: "a new hose",
      job: { ...MARKED, steps: failed },
      expected: [],
    },
    {
      kind: "retest failed and done again",
      says: "filled again and not bled again",
      job: { ...MARKED, steps: less(failed, "10:25") },
      expected: [INCOMPLETE, needs("warm run")],
    },
    {
      kind: "two places",
      says: "both mended, one test of the whole system",
      job: {
        ...MARKED,
        steps: instead(
          instead(found, "09:00  repair [outlet]: clamp", "09:20  replace [pump]: seal"),
          "10:30  retest: pass",
        ),
      },
      expected: [],
    },
    {
      kind: "two places",
      says: "one of them tested, and driven off",
      job: { ...MARKED, steps: instead(found, "09:00  repair [outlet]", "09:20  replace [pump]: seal") },
      expected: [INCOMPLETE, needs("warm run")],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new hose has nothing to cure",
      job: { ...MARKED, outcome: "replaced", steps: instead(whole, "09:00  replace [outlet]: hose") },
      expected: [],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new hose with the coolant still in",
      job: {
        ...MARKED,
        outcome: "replaced",
        steps: instead(less(whole, "08:45"), "09:00  replace [outlet]: hose"),
      },
      expected: [needs("replace [outlet]")],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new cap for one that failed its test, and the system proved tight",
      job: { ...MARKED, outcome: "replaced", steps: capped },
      expected: [],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new cap, and the system never proved tight",
      job: { ...MARKED, outcome: "replaced", steps: less(capped, "08:36") },
      expected: [INCOMPLETE, needs("warm run")],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new cap on a guess",
      job: { ...MARKED, outcome: "replaced", steps: less(capped, "08:00") },
      expected: [needs("retest")],
    },
    {
      kind: "replaced instead of sealed",
      says: "the bad cap still on",
      job: { ...MARKED, outcome: "replaced", steps: less(capped, "08:02") },
      expected: [INCOMPLETE, needs("retest")],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new cap, and the hose that was found leaking left as it is",
      job: {
        ...MARKED,
        outcome: "replaced",
        steps: instead(capped, "08:26  locate [outlet]: found, drips"),
      },
      expected: [needs("retest")],
    },
    {
      kind: "overnight",
      says: "sealed, cured, and found cold again in the morning",
      job: {
        ...MARKED,
        steps: [...sealed, NEXT_DAY, "09:30  confirm cold: stood overnight", ...whole.slice(11)],
      },
      expected: [],
    },
    {
      kind: "overnight",
      says: "nobody knows whether somebody ran it in the evening",
      job: { ...MARKED, steps: [...sealed, NEXT_DAY, ...whole.slice(11)] },
      expected: [needs("fill"), needs("bleed")],
    },
    {
      kind: "no fault found",
      says: "looked for under pressure, cap and level good",
      job: { ...MARKED, outcome: "no fault found", steps: none },
      expected: [],
    },
    {
      kind: "no fault found",
      says: "the cap, which may be the fault, was not tested",
      job: { ...MARKED, outcome: "no fault found", steps: less(none, "08:00") },
      expected: [INCOMPLETE],
    },
    {
      kind: "handed over",
      says: "with the pressure off, and finished by the next one",
      job: { ...MARKED, steps: instead(whole, "08:40  relieve pressure", "08:42  hand over: tech 3") },
      expected: [],
    },
    {
      kind: "handed over",
      says: "pumped up",
      job: { ...MARKED, status: "open", steps: [...upTo(whole, "08:26"), "08:30  hand over: tech 3"] },
      expected: [OPEN, needs("hand over")],
    },
    {
      kind: "comeback",
      says: "looked for from the beginning",
      job: { ...MARKED, ...COMEBACK, steps: whole },
      expected: [],
    },
    {
      kind: "comeback",
      says: "the clamp of the last time tightened on a guess",
      job: { ...MARKED, ...COMEBACK, steps: less(whole, "08:10", "08:26", "08:40") },
      expected: [needs("repair [outlet]")],
    },
  ],
};
