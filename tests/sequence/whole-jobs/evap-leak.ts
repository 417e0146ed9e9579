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

const TANK = { readings: ["fuel level: 40 %", "start temperature: 18.0 degC", "test pressure: 13 inH2O"] };
const whole = [
  "08:30  make safe: doors open, engine cold",
  "08:45  inspect: none, dry",
  "08:55  connect: nitrogen",
  "09:00  close vent",
  "09:10  pressurize: nitrogen, 13 inH2O",
  "09:30  locate [filler hose]: found",
  "09:40  relieve pressure",
  "09:50  repair [filler hose]: clamp",
  "10:40  pressurize: nitrogen, 13 inH2O",
  "11:05  retest [filler hose]: pass",
  "11:15  relieve pressure",
  "11:18  open vent",
  "11:20  disconnect",
  "11:35  function check: pass",
];
const failed = instead(
  whole,
  "11:05  retest [filler hose]: fail",
  "11:07  relieve pressure",
  "11:09  repair [filler hose]: new clamp",
  "11:10  pressurize: nitrogen, 13 inH2O",
  "11:13  retest [filler hose]: pass",
);
const none = instead(less(whole, "09:40", "09:50", "10:40", "11:05"), "09:30  locate: none");
const morning = [NEXT_DAY, "08:00  make safe: doors open, engine cold"];

export const evap: WholeJobs = {
  procedure: "evap-leak",
  ways: [
    { kind: "clean", says: "in order", job: { ...TANK, steps: whole }, expected: [] },
    {
      kind: "clean",
      says: "the vent left shut",
      job: { ...TANK, steps: less(whole, "11:18") },
      expected: [left("close vent"), needs("function check")],
    },
    {
      kind: "retest failed and done again",
      says: "a new clamp",
      job: { ...TANK, steps: failed },
      expected: [],
    },
    {
      kind: "retest failed and done again",
      says: "the battery charged in between, beside an opened line",
      job: { ...TANK, steps: instead(failed, "11:07  relieve pressure", "11:08  charge battery") },
      // Whatever comes after it happens with an ignition source about, up to the end of the job.
      expected: [needs("repair [filler hose]"), needs("pressurize"), needs("relieve pressure")],
    },
    {
      kind: "two places",
      says: "both mended, both tested",
      job: {
        ...TANK,
        steps: instead(
          instead(
            instead(whole, "09:30  locate [filler hose]: found", "09:35  locate [canister]: found"),
            "09:50  repair [filler hose]",
            "10:10  replace [canister]",
          ),
          "11:05  retest [filler hose]: pass",
          "11:08  retest [canister]: pass",
        ),
      },
      expected: [],
    },
    {
      kind: "two places",
      says: "one of them not tested",
      job: {
        ...TANK,
        steps: instead(
          instead(whole, "09:30  locate [filler hose]: found", "09:35  locate [canister]: found"),
          "09:50  repair [filler hose]",
          "10:10  replace [canister]",
        ),
      },
      expected: [INCOMPLETE],
    },
    // Nothing is sealed on a fuel-vapour system; a new hose is what comes next to it.
    {
      kind: "replaced instead of sealed",
      says: "a new hose",
      job: { ...TANK, outcome: "replaced", steps: instead(whole, "09:50  replace [filler hose]: new one") },
      expected: [],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new hose, and nobody knows how warm the tank was",
      job: {
        outcome: "replaced",
        readings: ["fuel level: 40 %", "test pressure: 13 inH2O"],
        steps: instead(whole, "09:50  replace [filler hose]: new one"),
      },
      expected: [unfair("retest [filler hose]")],
    },
    {
      kind: "overnight",
      says: "the bay made safe again in the morning",
      job: { ...TANK, steps: [...upTo(whole, "09:40"), ...morning, ...whole.slice(7)] },
      expected: [],
    },
    {
      kind: "overnight",
      says: "whatever somebody plugged in overnight is still there",
      job: { ...TANK, steps: [...upTo(whole, "09:40"), NEXT_DAY, ...whole.slice(7)] },
      expected: [needs("repair [filler hose]"), needs("pressurize"), needs("relieve pressure")],
    },
    {
      kind: "no fault found",
      says: "looked for under pressure",
      job: { ...TANK, outcome: "no fault found", steps: none },
      expected: [],
    },
    {
      kind: "no fault found",
      says: "with liquid fuel about, which is a fault",
      job: { ...TANK, outcome: "no fault found", steps: instead(none, "08:45  inspect: found, fuel drips") },
      expected: [needs("pressurize"), needs("function check")],
    },
    {
      kind: "handed over",
      says: "with the pressure off, and finished by the next one",
      job: { ...TANK, steps: instead(whole, "09:40  relieve pressure", "09:45  hand over: tech 3") },
      expected: [],
    },
    {
      kind: "handed over",
      says: "with the tank under pressure",
      job: { ...TANK, status: "open", steps: [...upTo(whole, "09:30"), "09:35  hand over: tech 3"] },
      expected: [OPEN, needs("hand over")],
    },
    {
      kind: "comeback",
      says: "made safe and looked for from the beginning",
      job: { ...TANK, ...COMEBACK, steps: whole },
      expected: [],
    },
    {
      kind: "comeback",
      says: "nobody looked for liquid fuel this time",
      job: { ...TANK, ...COMEBACK, steps: less(whole, "08:45") },
      expected: [needs("pressurize"), needs("pressurize"), needs("function check")],
    },
  ],
};
