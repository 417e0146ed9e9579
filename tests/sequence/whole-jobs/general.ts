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

const QUICK = { readings: ["cure time: 2 h"] };
const LIMIT = { limits: ["test pressure <= 10 psi   source: marking"] };
const whole = [
  "09:00  inspect [wire]: found, chafed",
  "09:10  isolate power: battery off",
  "09:20  repair [wire]: sleeve",
  "10:30  restore power",
  "10:40  function check: pass",
];
const tank = [
  "09:00  inspect [cover]: found, drips",
  "09:05  inspect [cap]: found, drips",
  "09:20  seal [cover]: gasket maker",
  "11:00  seal [cap]: gasket maker",
];
const bead = ["08:50  inspect [cover]: found, drips", "09:00  seal [cover]: gasket maker"];
const tested = [
  "09:00  block openings [vent]",
  "09:10  pressurize: air, 5 psi",
  "09:20  locate [joint]: found, hisses",
  "09:30  relieve pressure",
  "09:40  hand over: tech 2",
  "09:50  repair [joint]",
  "10:00  pressurize: air, 5 psi",
  "10:10  retest [joint]: pass",
  "10:20  relieve pressure",
  "10:30  unblock openings [vent]",
];

export const general: WholeJobs = {
  procedure: "general",
  ways: [
    { kind: "clean", says: "in order", job: { steps: whole }, expected: [] },
    {
      kind: "clean",
      says: "checked with the battery off",
      job: { steps: less(whole, "10:30") },
      expected: [INCOMPLETE, needs("function check")],
    },
    {
      kind: "clean",
      says: "an opening left blocked",
      job: { ...LIMIT, steps: less(tested, "10:30") },
      expected: [left("block openings [vent]")],
    },
    {
      kind: "retest failed and done again",
      says: "mended again and checked again",
      job: {
        steps: [
          ...instead(whole, "10:40  function check: fail"),
          "10:45  isolate power: battery off",
          "10:50  repair [wire]: plug too",
          "11:00  restore power",
          "11:10  function check: pass",
        ],
      },
      expected: [],
    },
    {
      kind: "retest failed and done again",
      says: "mended again, and not checked again",
      job: { steps: [...instead(whole, "10:40  function check: fail"), "10:50  repair [wire]: plug too"] },
      expected: [INCOMPLETE],
    },
    {
      kind: "two places",
      says: "each tested when its own bead had cured",
      job: {
        ...QUICK,
        steps: [...tank, "11:30  water test [cover]: pass", "13:10  water test [cap]: pass"],
      },
      expected: [],
    },
    {
      kind: "two places",
      says: "the second one tested when only the first one had cured",
      job: {
        ...QUICK,
        steps: [...tank, "11:30  water test [cover]: pass", "11:40  water test [cap]: pass"],
      },
      expected: [uncured("water test [cap]")],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new part has nothing to cure",
      job: {
        outcome: "replaced",
        steps: [upTo(tank, "09:00")[0] ?? "", "09:20  replace [cover]", "09:30  water test [cover]: pass"],
      },
      expected: [],
    },
    {
      kind: "replaced instead of sealed",
      says: "checked before it was replaced, and not after it",
      job: {
        outcome: "replaced",
        steps: [upTo(tank, "09:00")[0] ?? "", "09:10  water test [cover]: pass", "09:20  replace [cover]"],
      },
      expected: [INCOMPLETE],
    },
    {
      kind: "overnight",
      says: "cured for a day",
      job: { steps: [...bead, NEXT_DAY, "10:00  water test [cover]: pass"] },
      expected: [],
    },
    {
      kind: "overnight",
      says: "a night is less than a day",
      job: { steps: [...bead, NEXT_DAY, "08:00  water test [cover]: pass"] },
      expected: [uncured("water test [cover]")],
    },
    {
      kind: "no fault found",
      says: "looked over",
      job: { outcome: "no fault found", steps: ["09:00  inspect: none"] },
      expected: [],
    },
    {
      kind: "no fault found",
      says: "something was found",
      job: { outcome: "no fault found", steps: upTo(whole, "09:00") },
      expected: [INCOMPLETE],
    },
    {
      kind: "handed over",
      says: "with the pressure off, and finished by the next one",
      job: { ...LIMIT, steps: tested },
      expected: [],
    },
    {
      kind: "handed over",
      says: "with the pressure on",
      job: { ...LIMIT, status: "open", steps: less(upTo(tested, "09:40"), "09:30") },
      expected: [OPEN, needs("hand over")],
    },
    {
      kind: "comeback",
      says: "looked at and checked again",
      job: { ...COMEBACK, steps: whole },
      expected: [],
    },
    {
      kind: "comeback",
      says: "closed on the fresh bead, as perhaps the last time",
      job: { ...COMEBACK, steps: [...bead, "09:10  close [cover]", "09:20  function check: pass"] },
      expected: [uncured("close [cover]")],
    },
  ],
};
