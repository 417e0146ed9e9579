import {
  COMEBACK,
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
  "08:30  stop engine: key off",
  "08:40  block breather",
  "08:50  pressurize: smoke, 0.3 psi",
  "09:05  locate [cover]: found, smoke",
  "09:15  relieve pressure",
  "09:30  clean [cover]: degreased",
  "09:45  repair [cover]: bolts",
  "10:50  pressurize: smoke, 0.3 psi",
  "11:05  retest [cover]: pass",
  "11:20  relieve pressure",
  "11:22  unblock breather",
  "11:40  function check: pass",
];
const failed = instead(
  whole,
  "11:05  retest [cover]: fail",
  "11:06  relieve pressure",
  "11:07  repair [cover]",
);
const sealed = instead(upTo(whole, "09:45"), "09:45  seal [cover]: gasket maker", "09:50  cure [cover]");
const none = instead(less(whole, "09:15", "09:30", "09:45", "10:50", "11:05"), "09:05  locate: none");

export const crankcase: WholeJobs = {
  procedure: "crankcase-leak",
  ways: [
    { kind: "clean", says: "in order", job: { steps: whole }, expected: [] },
    {
      kind: "clean",
      says: "run with the breather plugged",
      job: { steps: less(whole, "11:22") },
      expected: [left("block breather"), needs("function check")],
    },
    {
      kind: "retest failed and done again",
      says: "mended again and tested again",
      job: {
        steps: instead(
          failed,
          "11:07  repair [cover]",
          "11:10  pressurize: smoke, 0.3 psi",
          "11:15  retest [cover]: pass",
        ),
      },
      expected: [],
    },
    {
      kind: "retest failed and done again",
      says: "mended again under pressure",
      job: {
        steps: instead(less(failed, "11:06"), "11:07  repair [cover]", "11:15  retest [cover]: pass"),
      },
      expected: [needs("repair [cover]")],
    },
    {
      kind: "two places",
      says: "one sealed and one with a new seal, both tested on the day after",
      job: {
        steps: [
          ...instead(sealed, "09:05  locate [cover]: found", "09:10  locate [crank seal]: found"),
          "09:55  replace [crank seal]",
          NEXT_DAY,
          ...instead(whole, "11:05  retest [cover]: pass", "11:10  retest [crank seal]: pass").slice(7),
        ],
      },
      expected: [],
    },
    {
      kind: "two places",
      says: "one cleaned and the other one sealed",
      job: {
        steps: [
          ...instead(
            upTo(whole, "09:30"),
            "09:05  locate [cover]: found",
            "09:10  locate [timing case]: found",
          ),
          "09:45  repair [cover]: bolts",
          "09:50  seal [timing case]: gasket maker",
          NEXT_DAY,
          ...instead(whole, "11:05  retest: pass").slice(7),
        ],
      },
      expected: [needs("seal [timing case]")],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new gasket has nothing to cure",
      job: { outcome: "replaced", steps: instead(whole, "09:45  replace [cover]: gasket") },
      expected: [],
    },
    {
      kind: "replaced instead of sealed",
      says: "the oil let out for it and not filled in again",
      job: {
        outcome: "replaced",
        steps: instead(whole, "09:30  drain oil: 7 L", "09:45  replace [cover]: gasket").filter(
          (line) => !line.includes("repair"),
        ),
      },
      expected: [left("drain oil"), needs("function check")],
    },
    {
      kind: "overnight",
      says: "the sealant cured overnight",
      job: { steps: [...sealed, NEXT_DAY, ...whole.slice(7)] },
      expected: [],
    },
    {
      kind: "overnight",
      says: "run on the way home while the sealant was fresh",
      job: {
        steps: [
          ...sealed,
          "16:00  unblock breather",
          "16:05  run engine",
          "16:10  stop engine",
          NEXT_DAY,
          "10:00  block breather",
          ...whole.slice(7),
        ],
      },
      expected: [uncured("run engine")],
    },
    {
      kind: "no fault found",
      says: "looked for under pressure",
      job: { outcome: "no fault found", steps: none },
      expected: [],
    },
    {
      kind: "no fault found",
      says: "looked for without pressure and without a word on how",
      job: { outcome: "no fault found", steps: less(none, "08:40", "08:50", "11:20", "11:22") },
      expected: [needs("locate")],
    },
    {
      kind: "handed over",
      says: "with the pressure off, and finished by the next one",
      job: { steps: instead(whole, "09:15  relieve pressure", "09:20  hand over: tech 3") },
      expected: [],
    },
    {
      kind: "handed over",
      says: "with smoke in the crankcase",
      job: { status: "open", steps: [...upTo(whole, "09:05"), "09:10  hand over: tech 3"] },
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
      says: "sealed over the old bead, which was neither found again nor cleaned",
      job: {
        ...COMEBACK,
        steps: [
          ...upTo(whole, "08:30"),
          "09:45  seal [cover]: gasket maker",
          NEXT_DAY,
          "10:40  block breather",
          ...whole.slice(7),
        ],
      },
      expected: [needs("seal [cover]"), needs("seal [cover]")],
    },
  ],
};
