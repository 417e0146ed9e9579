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
  wet,
} from "./whole-job.ts";

/** A sealant that cures within the day; without it the job takes a night. */
const QUICK = { readings: ["cure time: 2 h"] };
const whole = [
  "08:30  isolate power: battery off",
  "08:45  prove absence of voltage: pass",
  "08:55  block vents: one cap",
  "09:10  pressurize: smoke, 0.4 psi",
  "09:20  locate [seam]: found, smoke",
  "09:30  relieve pressure",
  "09:32  unblock vents",
  "09:40  open",
  "09:45  dry: fan, 2 h",
  "12:00  inspect: none",
  "12:20  clean [seam]: alcohol wipe",
  "12:30  seal [seam]: silicone",
  "12:45  close",
  "15:00  block vents: one cap",
  "15:05  pressurize: smoke, 0.4 psi",
  "15:15  retest [seam]: pass",
  "18:25  relieve pressure",
  "18:30  unblock vents",
  "18:40  refit",
  "18:45  restore power",
  "18:50  function check: pass",
];
const failed = [
  ...upTo(whole, "15:05"),
  "15:15  retest [seam]: fail",
  "15:20  relieve pressure",
  "15:22  unblock vents",
  "15:25  clean [seam]",
  "15:30  seal [seam]: silicone",
  "18:00  block vents: one cap",
  "18:05  pressurize: smoke, 0.4 psi",
  "18:15  retest [seam]: pass",
  ...whole.slice(16),
];
const two = instead(
  instead(
    instead(whole, "09:20  locate [seam]: found", "09:25  locate [cover]: found"),
    "12:30  seal [seam]: silicone",
    "12:35  clean [cover]",
    "12:40  renew seal [cover]",
  ),
  "15:15  retest [seam]: pass",
  "15:20  retest [cover]: pass",
);
const renewed = [...upTo(whole, "09:32"), "10:30  replace: new module", ...whole.slice(13)];
const none = instead([...upTo(whole, "09:20"), ...less(whole, "18:40").slice(16)], "09:20  locate: none");

export const moduleEnclosure: WholeJobs = {
  procedure: "module-enclosure-leak",
  ways: [
    { kind: "clean", says: "in order", job: { ...QUICK, steps: whole }, expected: [] },
    {
      kind: "clean",
      says: "refitted with the vents capped",
      job: { ...QUICK, steps: less(whole, "18:30") },
      expected: [left("block vents"), needs("refit")],
    },
    {
      kind: "retest failed and done again",
      says: "sealed again, cured and tested again",
      job: { ...QUICK, steps: failed },
      expected: [],
    },
    {
      kind: "retest failed and done again",
      says: "soaped to see where, and sealed on it",
      job: { ...QUICK, steps: instead(failed, "15:25  soap [seam]") },
      // Soap on the box is water at an open leak too, so the inside is not known to be dry any more.
      expected: [INCOMPLETE, needs("seal [seam]"), wet("seal [seam]"), wet("refit")],
    },
    {
      kind: "two places",
      says: "one sealed, one with a new seal",
      job: { ...QUICK, steps: two },
      expected: [],
    },
    {
      kind: "two places",
      says: "the seam cleaned, and the cover's face not",
      job: { ...QUICK, steps: less(two, "12:35") },
      expected: [needs("renew seal [cover]")],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new module is dry and has nothing to cure",
      job: { outcome: "replaced", steps: renewed },
      expected: [],
    },
    {
      kind: "replaced instead of sealed",
      says: "nobody proved that it was dead",
      job: { outcome: "replaced", steps: less(renewed, "08:45") },
      expected: [needs("pressurize"), needs("replace"), needs("pressurize")],
    },
    {
      kind: "overnight",
      says: "cured overnight, isolated and proved dead again",
      job: {
        steps: [
          ...upTo(whole, "12:45"),
          NEXT_DAY,
          "14:00  isolate power: still off",
          "14:05  prove absence of voltage: pass",
          ...whole.slice(13),
        ],
      },
      expected: [],
    },
    {
      kind: "overnight",
      says: "isolated in the morning, and not proved dead again",
      job: {
        steps: [...upTo(whole, "12:45"), NEXT_DAY, "14:00  isolate power: still off", ...whole.slice(13)],
      },
      expected: [needs("pressurize")],
    },
    {
      kind: "no fault found",
      says: "looked for under pressure",
      job: { outcome: "no fault found", steps: none },
      expected: [],
    },
    {
      kind: "no fault found",
      says: "handed back without power",
      job: { outcome: "no fault found", steps: less(none, "18:45") },
      expected: [INCOMPLETE, needs("function check")],
    },
    {
      kind: "handed over",
      says: "with the pressure off, and finished by the next one",
      job: { ...QUICK, steps: instead(whole, "09:32  unblock vents", "09:35  hand over: tech 2") },
      expected: [],
    },
    {
      kind: "handed over",
      says: "with the pressure on",
      job: { status: "open", steps: [...upTo(whole, "09:20"), "09:25  hand over: tech 2"] },
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
      says: "sealed with the water of the last time still in it",
      job: { ...QUICK, ...COMEBACK, steps: less(whole, "09:45", "12:00") },
      expected: [INCOMPLETE, wet("seal [seam]"), wet("close"), wet("refit")],
    },
  ],
};
