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
  wet,
} from "./whole-job.ts";

/** A sealant that cures within the day; without it the job takes a night. */
const QUICK = { readings: ["cure time: 2 h"] };
const whole = [
  "08:30  assess: found, mat soaked",
  "08:40  isolate power: battery off",
  "09:00  remove seat",
  "09:10  tape flaps",
  "09:15  pressurize: fan, cab empty, 200 Pa",
  "09:30  locate [seam]: found, bubbles",
  "09:40  relieve pressure",
  "09:45  untape flaps",
  "10:00  dry: fan, 4 h",
  "14:20  inspect: none",
  "14:30  clean [seam]: alcohol wipe",
  "14:40  seal [seam]: seam sealer",
  "17:00  water test [seam]: pass, ten minutes",
  "20:15  refit trim: seat in",
  "20:20  restore power",
  "20:30  function check: pass",
];
const failed = instead(
  whole,
  "17:00  water test [seam]: fail, drips at the corner",
  "17:10  repair [seam]: clip missing",
  "17:20  dry: fan, 2 h",
  "19:30  inspect: none",
  "19:50  water test [seam]: pass, ten minutes",
);
const two = instead(
  instead(whole, "09:30  locate [seam]: found", "09:35  locate [drain]: found, leaves in it"),
  "14:40  seal [seam]: seam sealer",
  "14:50  clear drains [drain]",
);
const sound = ["08:30  assess: none", "08:40  water test: pass, half an hour", "09:30  function check: pass"];

export const cabin: WholeJobs = {
  procedure: "cabin-water-leak",
  ways: [
    { kind: "clean", says: "in order", job: { ...QUICK, steps: whole }, expected: [] },
    {
      kind: "clean",
      says: "water on it with the flaps still taped",
      job: { ...QUICK, steps: less(whole, "09:45") },
      expected: [left("tape flaps"), needs("water test [seam]")],
    },
    {
      kind: "retest failed and done again",
      says: "mended, dried and tested again",
      job: { ...QUICK, steps: failed },
      expected: [],
    },
    {
      kind: "retest failed and done again",
      says: "the water of the failed test left in the foam",
      job: { ...QUICK, steps: less(failed, "17:20", "19:30") },
      expected: [INCOMPLETE, wet("refit trim")],
    },
    {
      kind: "two places",
      says: "one sealed, one drain cleared, one test of the whole cabin",
      job: { ...QUICK, steps: instead(two, "17:00  water test: pass, ten minutes") },
      expected: [],
    },
    { kind: "two places", says: "one of them tested", job: { ...QUICK, steps: two }, expected: [INCOMPLETE] },
    {
      kind: "replaced instead of sealed",
      says: "a new door seal has nothing to cure",
      job: { outcome: "replaced", steps: instead(whole, "14:40  replace [seam]: door seal") },
      expected: [],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new door seal, and no water on it",
      job: { outcome: "replaced", steps: less(instead(whole, "14:40  replace [seam]: door seal"), "17:00") },
      expected: [INCOMPLETE],
    },
    {
      kind: "overnight",
      says: "cured overnight",
      job: { steps: [...upTo(whole, "14:40"), NEXT_DAY, ...whole.slice(12)] },
      expected: [],
    },
    {
      kind: "overnight",
      says: "the evening's bead, and everything else on the same day",
      job: { steps: whole },
      expected: [uncured("water test [seam]"), uncured("refit trim")],
    },
    {
      kind: "overnight",
      says: "the other seat out in the morning; the battery may be on again",
      job: { steps: [...upTo(whole, "14:40"), NEXT_DAY, "15:00  remove seat", ...whole.slice(12)] },
      expected: [needs("remove seat")],
    },
    {
      kind: "no fault found",
      says: "shown by half an hour of water",
      job: { outcome: "no fault found", steps: sound },
      expected: [],
    },
    {
      kind: "no fault found",
      says: "water came in",
      job: { outcome: "no fault found", steps: instead(sound, "08:40  water test: fail, drips") },
      expected: [INCOMPLETE],
    },
    {
      kind: "handed over",
      says: "with the fan off, and finished by the next one",
      job: { ...QUICK, steps: instead(whole, "09:45  untape flaps", "09:50  hand over: tech 2") },
      expected: [],
    },
    {
      kind: "handed over",
      says: "with the fan on",
      job: { status: "open", steps: [...upTo(whole, "09:30"), "09:35  hand over: tech 2"] },
      expected: [OPEN, needs("hand over")],
    },
    {
      kind: "comeback",
      says: "looked for from the beginning",
      job: { ...QUICK, ...COMEBACK, steps: whole },
      expected: [],
    },
    {
      kind: "comeback",
      says: "a bead where the leak was the last time",
      job: { ...QUICK, ...COMEBACK, steps: less(whole, "09:10", "09:15", "09:30", "09:40", "09:45") },
      expected: [needs("seal [seam]")],
    },
  ],
};
