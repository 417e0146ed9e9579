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
  "08:00  stop engine: key off",
  "08:10  confirm cold: 22 degC",
  "08:20  block outlet",
  "08:30  pressurize: smoke, 0.4 psi",
  "08:40  locate [flange]: found, smoke",
  "08:50  relieve pressure",
  "09:00  repair [flange]: bolts",
  "09:30  pressurize: smoke, 0.4 psi",
  "09:40  retest [flange]: pass",
  "09:50  relieve pressure",
  "09:55  unblock outlet",
  "10:10  function check: pass, outdoors",
];
const failed = instead(
  whole,
  "09:40  retest [flange]: fail",
  "09:41  relieve pressure",
  "09:42  repair [flange]",
);
const pasted = instead(upTo(whole, "09:00"), "09:00  seal [flange]: paste", "09:05  cure [flange]");

export const exhaust: WholeJobs = {
  procedure: "exhaust-leak",
  ways: [
    { kind: "clean", says: "in order", job: { steps: whole }, expected: [] },
    {
      kind: "clean",
      says: "run with the tailpipe plugged",
      job: { steps: less(whole, "09:55") },
      expected: [left("block outlet"), needs("function check")],
    },
    {
      kind: "retest failed and done again",
      says: "mended again and tested again",
      job: {
        steps: instead(
          failed,
          "09:42  repair [flange]: gasket too",
          "09:44  pressurize: smoke, 0.4 psi",
          "09:48  retest [flange]: pass",
        ),
      },
      expected: [],
    },
    {
      kind: "retest failed and done again",
      says: "run in between to hear it, and worked on hot",
      job: {
        steps: [
          ...upTo(failed, "09:41"),
          "09:43  unblock outlet",
          "09:45  run engine: outdoors",
          "09:50  stop engine",
          "09:52  repair [flange]: gasket too",
          "12:00  confirm cold: 30 degC",
          "12:05  block outlet",
          "12:10  pressurize: smoke, 0.4 psi",
          "12:15  retest [flange]: pass",
          "12:20  relieve pressure",
          "12:25  unblock outlet",
          "12:30  function check: pass, outdoors",
        ],
      },
      expected: [needs("repair [flange]")],
    },
    {
      kind: "two places",
      says: "both mended, both tested",
      job: {
        steps: instead(
          instead(
            instead(whole, "08:40  locate [flange]: found", "08:45  locate [flex]: found"),
            "09:00  repair [flange]",
            "09:20  replace [flex]",
          ),
          "09:40  retest [flange]: pass",
          "09:45  retest [flex]: pass",
        ),
      },
      expected: [],
    },
    {
      kind: "two places",
      says: "the second one was found and then forgotten",
      job: { steps: instead(whole, "08:40  locate [flange]: found", "08:45  locate [flex]: found") },
      expected: [INCOMPLETE],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new gasket has nothing to set",
      job: { outcome: "replaced", steps: instead(whole, "09:00  replace [flange]: gasket") },
      expected: [],
    },
    {
      kind: "replaced instead of sealed",
      says: "the pipe changed on a guess",
      job: { outcome: "replaced", steps: instead(less(whole, "08:40"), "09:00  replace [flange]: pipe") },
      expected: [needs("replace [flange]")],
    },
    {
      kind: "overnight",
      says: "the paste set overnight",
      job: { steps: [...pasted, NEXT_DAY, "09:20  confirm cold: stood overnight", ...whole.slice(7)] },
      expected: [],
    },
    {
      kind: "overnight",
      says: "nobody knows whether somebody ran it in the evening",
      job: { steps: [...pasted, NEXT_DAY, ...whole.slice(7)] },
      expected: [needs("pressurize")],
    },
    {
      kind: "overnight",
      says: "tested before the paste had set, and finished on the day after",
      job: { steps: [...pasted, ...whole.slice(7, 10), NEXT_DAY, ...whole.slice(10)] },
      expected: [uncured("pressurize"), uncured("retest [flange]")],
    },
    {
      kind: "no fault found",
      says: "looked for under pressure",
      job: {
        outcome: "no fault found",
        steps: instead(less(whole, "08:50", "09:00", "09:30", "09:40"), "08:40  locate: none"),
      },
      expected: [],
    },
    {
      kind: "no fault found",
      says: "never run with the engine on",
      job: {
        outcome: "no fault found",
        steps: instead(less(whole, "08:50", "09:00", "09:30", "09:40", "10:10"), "08:40  locate: none"),
      },
      expected: [INCOMPLETE],
    },
    {
      kind: "handed over",
      says: "with the pressure off, and finished by the next one",
      job: { steps: instead(whole, "08:50  relieve pressure", "08:55  hand over: tech 3") },
      expected: [],
    },
    {
      kind: "handed over",
      says: "with the pressure on",
      job: { status: "open", steps: [...upTo(whole, "08:40"), "08:45  hand over: tech 3"] },
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
      says: "nobody says that it is cold this time",
      job: { ...COMEBACK, steps: less(whole, "08:10") },
      expected: [needs("pressurize"), needs("repair [flange]"), needs("pressurize")],
    },
  ],
};
