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

const LIMIT = { readings: ["boost limit: 1.5 bar", "test pressure: 1 bar"] };
const whole = [
  "10:00  stop engine: key off",
  "10:05  block inlet",
  "10:10  restrain caps: strapped",
  "10:15  vent crankcase",
  "10:20  pressurize: air, 1 bar",
  "10:35  locate [cooler hose]: found, hisses",
  "10:45  relieve pressure",
  "10:50  repair [cooler hose]: clamp",
  "11:00  pressurize: air, 1 bar",
  "11:10  retest [cooler hose]: pass",
  "11:15  relieve pressure",
  "11:20  close crankcase",
  "11:25  unblock inlet",
  "11:40  function check: pass",
];
const failed = instead(
  whole,
  "11:10  retest [cooler hose]: fail",
  "11:11  relieve pressure",
  "11:12  repair [cooler hose]: new clamp",
  "11:13  pressurize: air, 1 bar",
  "11:14  retest [cooler hose]: pass",
);
const none = instead(less(whole, "10:45", "10:50", "11:00", "11:10"), "10:35  locate: none");

export const boost: WholeJobs = {
  procedure: "boost-leak",
  ways: [
    { kind: "clean", says: "in order", job: { ...LIMIT, steps: whole }, expected: [] },
    {
      kind: "clean",
      says: "the crankcase left vented",
      job: { ...LIMIT, steps: less(whole, "11:20") },
      expected: [left("vent crankcase"), needs("function check")],
    },
    {
      kind: "clean",
      says: "nobody says what the tract stands",
      job: { steps: whole },
      expected: ["error pressure/no-limit: pressurize", "error pressure/no-limit: pressurize"],
    },
    {
      kind: "retest failed and done again",
      says: "a new clamp",
      job: { ...LIMIT, steps: failed },
      expected: [],
    },
    {
      kind: "retest failed and done again",
      says: "the hose taken off under pressure",
      job: { ...LIMIT, steps: less(failed, "11:11", "11:13") },
      expected: [needs("repair [cooler hose]")],
    },
    {
      kind: "two places",
      says: "both mended, both tested",
      job: {
        ...LIMIT,
        steps: instead(
          instead(
            instead(whole, "10:35  locate [cooler hose]: found", "10:40  locate [flange]: found"),
            "10:50  repair [cooler hose]",
            "10:55  replace [flange]: gasket",
          ),
          "11:10  retest [cooler hose]: pass",
          "11:12  retest [flange]: pass",
        ),
      },
      expected: [],
    },
    {
      kind: "two places",
      says: "the second one was found and then forgotten",
      job: {
        ...LIMIT,
        steps: instead(whole, "10:35  locate [cooler hose]: found", "10:40  locate [flange]: found"),
      },
      expected: [INCOMPLETE],
    },
    // Nothing is sealed on a boost tract; a new hose is what comes next to it.
    {
      kind: "replaced instead of sealed",
      says: "a new hose",
      job: { ...LIMIT, outcome: "replaced", steps: instead(whole, "10:50  replace [cooler hose]: new one") },
      expected: [],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new hose, not tested",
      job: {
        ...LIMIT,
        outcome: "replaced",
        steps: less(instead(whole, "10:50  replace [cooler hose]: new one"), "11:00", "11:10"),
      },
      expected: [INCOMPLETE],
    },
    {
      kind: "overnight",
      says: "waited for the hose with the pressure off",
      job: { ...LIMIT, steps: [...upTo(whole, "10:45"), "16:00  order part", NEXT_DAY, ...whole.slice(7)] },
      expected: [],
    },
    {
      kind: "overnight",
      says: "the inlet opened in the evening, and the caps not strapped again in the morning",
      job: {
        ...LIMIT,
        steps: [
          ...instead(upTo(whole, "10:45"), "10:10  restrain caps"),
          "16:00  unblock inlet",
          NEXT_DAY,
          "10:50  repair [cooler hose]: clamp",
          "10:55  block inlet",
          ...whole.slice(8),
        ],
      },
      expected: [needs("pressurize")],
    },
    {
      kind: "no fault found",
      says: "looked for under pressure",
      job: { ...LIMIT, outcome: "no fault found", steps: none },
      expected: [],
    },
    {
      kind: "no fault found",
      says: "heard the hiss and found it",
      job: {
        ...LIMIT,
        outcome: "no fault found",
        steps: instead(none, "10:35  locate [cooler hose]: found, hisses"),
      },
      expected: [INCOMPLETE],
    },
    {
      kind: "handed over",
      says: "with the pressure off, and finished by the next one",
      job: { ...LIMIT, steps: instead(whole, "10:45  relieve pressure", "10:48  hand over: tech 3") },
      expected: [],
    },
    {
      kind: "handed over",
      says: "with a bar in the tract",
      job: { ...LIMIT, status: "open", steps: [...upTo(whole, "10:35"), "10:40  hand over: tech 3"] },
      expected: [OPEN, needs("hand over")],
    },
    {
      kind: "comeback",
      says: "looked for from the beginning",
      job: { ...LIMIT, ...COMEBACK, steps: whole },
      expected: [],
    },
    {
      kind: "comeback",
      says: "the clamp tightened again without a look",
      job: { ...LIMIT, ...COMEBACK, steps: less(whole, "10:20", "10:35", "10:45") },
      expected: [needs("repair [cooler hose]")],
    },
  ],
};
