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

/** A sealant that cures within the day; without it the job takes a night. */
const QUICK = { readings: ["cure time: 2 h"] };
const whole = [
  "08:45  isolate power: key off",
  "08:50  block vents",
  "09:10  pressurize: smoke, 0.8 psi",
  "09:25  locate [lower seam]: found, smoke",
  "09:32  relieve pressure",
  "09:34  unblock vents",
  "09:40  drain",
  "09:50  dry: fan, 2 h",
  "12:10  inspect: none",
  "12:20  clean [lower seam]: alcohol wipe",
  "12:35  seal [lower seam]: silicone",
  "15:00  block vents",
  "15:05  pressurize: smoke, 0.8 psi",
  "15:15  retest [lower seam]: pass",
  "18:25  relieve pressure",
  "18:30  unblock vents",
  "18:40  refit",
  "18:45  restore power",
  "18:50  function check: pass",
];
const again = (time: string) => [
  `${time}:00  block vents`,
  `${time}:05  pressurize: smoke, 0.8 psi`,
  `${time}:15  retest [lower seam]: pass`,
];
const failed = (time: string) => [
  ...upTo(whole, "15:05"),
  "15:15  retest [lower seam]: fail",
  "15:20  relieve pressure",
  "15:22  unblock vents",
  "15:25  clean [lower seam]",
  "15:30  seal [lower seam]: silicone",
  ...again(time),
  ...whole.slice(14),
];
const two = instead(
  instead(whole, "09:25  locate [lower seam]: found", "09:28  locate [upper seam]: found"),
  "12:35  seal [lower seam]: silicone",
  "12:40  clean [upper seam]",
  "12:50  seal [upper seam]: silicone",
);
const renewed = [...upTo(whole, "09:34"), "10:30  replace: new lamp", ...whole.slice(11)];

export const lamp: WholeJobs = {
  procedure: "lamp-moisture",
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
      job: { ...QUICK, steps: failed("18") },
      expected: [],
    },
    {
      kind: "retest failed and done again",
      says: "tested before the second bead had cured",
      job: { ...QUICK, steps: failed("16") },
      expected: [uncured("pressurize"), uncured("retest [lower seam]")],
    },
    {
      kind: "two places",
      says: "one test of the whole lamp covers both seams",
      job: { ...QUICK, steps: instead(two, "15:15  retest: pass") },
      expected: [],
    },
    { kind: "two places", says: "one of them tested", job: { ...QUICK, steps: two }, expected: [INCOMPLETE] },
    {
      kind: "replaced instead of sealed",
      says: "a new lamp is dry and has nothing to cure",
      job: { outcome: "replaced", steps: renewed },
      expected: [],
    },
    {
      kind: "replaced instead of sealed",
      says: "a new lamp with its vents capped",
      job: { outcome: "replaced", steps: less(renewed, "18:30") },
      expected: [left("block vents"), needs("refit")],
    },
    {
      kind: "overnight",
      says: "cured overnight, and isolated again",
      job: {
        steps: [...upTo(whole, "12:35"), NEXT_DAY, "14:00  isolate power: still off", ...whole.slice(11)],
      },
      expected: [],
    },
    {
      kind: "overnight",
      says: "somebody may have connected it in the evening",
      job: { steps: [...upTo(whole, "12:35"), NEXT_DAY, ...whole.slice(11)] },
      expected: [needs("pressurize")],
    },
    {
      kind: "no fault found",
      says: "fog that clears by itself",
      job: { outcome: "no fault found", steps: ["08:40  assess: fog", "08:55  function check: pass"] },
      expected: [],
    },
    {
      kind: "no fault found",
      says: "droplets are a fault",
      job: { outcome: "no fault found", steps: ["08:40  assess: droplets", "08:55  function check: pass"] },
      expected: [INCOMPLETE],
    },
    {
      kind: "handed over",
      says: "with the pressure off, and finished by the next one",
      job: { ...QUICK, steps: instead(whole, "09:40  drain", "09:45  hand over: tech 2") },
      expected: [],
    },
    {
      kind: "handed over",
      says: "with the pressure on",
      job: { status: "open", steps: [...upTo(whole, "09:25"), "09:30  hand over: tech 2"] },
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
      says: "a new bead over the old one",
      job: { ...QUICK, ...COMEBACK, steps: less(whole, "12:20") },
      expected: [needs("seal [lower seam]")],
    },
  ],
};
