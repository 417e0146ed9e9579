import {
  COMEBACK,
  INCOMPLETE,
  instead,
  left,
  less,
  NEXT_DAY,
  needs,
  upTo,
  type WholeJobs,
} from "./whole-job.ts";

const DRAWN = { readings: ["key-off draw: 210 mA", "draw after repair: 24 mA"] };
const whole = [
  "08:05  test battery: pass",
  "08:15  put key away",
  "08:20  prepare: latches tripped",
  "08:25  zero clamp",
  "08:30  connect meter: clamp, mA range",
  "08:35  wait: draw steady, 40 min",
  "09:20  measure: 210 mA",
  "09:30  fuse drops: fuse 27, 1.1 mV",
  "09:45  repair: wiring of the lamp",
  "10:00  wait: draw steady, 45 min",
  "10:50  remeasure: pass, 24 mA",
  "13:00  remove meter",
  "13:05  restore: latches back",
  "13:15  function check: pass",
];
const failed = instead(
  whole,
  "10:50  remeasure: fail, 90 mA",
  "10:55  repair: wiring of the switch",
  "11:10  wait: draw steady, 40 min",
  "11:55  remeasure: pass, 24 mA",
);
const none = instead(less(whole, "09:30", "09:45", "10:00", "10:50"), "09:20  measure: 20 mA");

export const keyOff: WholeJobs = {
  procedure: "key-off-draw",
  ways: [
    { kind: "clean", says: "in order", job: { ...DRAWN, steps: whole }, expected: [] },
    {
      kind: "clean",
      says: "the latches left tripped",
      job: { ...DRAWN, steps: less(whole, "13:05") },
      expected: [INCOMPLETE],
    },
    {
      kind: "retest failed and done again",
      says: "mended again, asleep again and measured again",
      job: { ...DRAWN, steps: failed },
      expected: [],
    },
    {
      kind: "retest failed and done again",
      says: "measured again before it had gone to sleep again",
      job: { ...DRAWN, steps: less(failed, "11:10") },
      expected: [needs("remeasure")],
    },
    // A draw has circuits and no places, and they stand in the remarks.
    {
      kind: "two places",
      says: "two circuits, both mended",
      job: {
        ...DRAWN,
        steps: instead(
          instead(whole, "09:30  fuse drops: fuse 27, 1.1 mV, fuse 12, 0.6 mV"),
          "09:45  repair: wiring of the lamp",
          "09:55  replace: relay of the blower",
        ),
      },
      expected: [],
    },
    {
      kind: "two places",
      says: "the second circuit mended after the measurement that was to prove both",
      job: {
        ...DRAWN,
        steps: instead(whole, "10:50  remeasure: pass, 24 mA", "11:00  replace: relay of the blower"),
      },
      expected: [INCOMPLETE],
    },
    // Nothing is sealed on a circuit; a new part instead of a mended one is what comes next to it.
    {
      kind: "replaced instead of sealed",
      says: "a new relay",
      job: { ...DRAWN, outcome: "replaced", steps: instead(whole, "09:45  replace: relay") },
      expected: [],
    },
    {
      kind: "replaced instead of sealed",
      says: "a relay on a guess",
      job: { ...DRAWN, outcome: "replaced", steps: instead(less(whole, "09:30"), "09:45  replace: relay") },
      expected: [needs("replace")],
    },
    {
      kind: "overnight",
      says: "left asleep with the clamp on, and read in the morning",
      job: {
        ...DRAWN,
        steps: [
          ...instead(upTo(whole, "08:35"), "08:35  wait: draw steady, until 2031-03-05 07:30"),
          NEXT_DAY,
          ...whole.slice(6),
        ],
      },
      expected: [],
    },
    {
      kind: "overnight",
      says: "on the charger overnight, and read without another test or wait",
      job: {
        ...DRAWN,
        steps: [...upTo(whole, "08:35"), "18:00  charge battery", NEXT_DAY, ...whole.slice(6)],
      },
      expected: [INCOMPLETE, needs("measure"), needs("fuse drops")],
    },
    {
      kind: "no fault found",
      says: "a small draw and a good battery",
      job: { readings: ["key-off draw: 20 mA"], outcome: "no fault found", steps: none },
      expected: [],
    },
    {
      kind: "no fault found",
      says: "the battery failed its test, which is a fault",
      job: {
        readings: ["key-off draw: 20 mA"],
        outcome: "no fault found",
        steps: instead(none, "08:05  test battery: fail"),
      },
      expected: [INCOMPLETE, needs("connect meter")],
    },
    // There is no pressure to hand over; a fuse that is out is what the next one trips over.
    {
      kind: "handed over",
      says: "with the circuit found, and finished by the next one",
      job: {
        ...DRAWN,
        steps: instead(whole, "09:30  fuse drops: fuse 27, 1.1 mV", "09:40  hand over: tech 2"),
      },
      expected: [],
    },
    {
      kind: "handed over",
      says: "with a fuse out, and the next one did not know",
      job: {
        ...DRAWN,
        steps: instead(
          whole,
          "09:30  fuse drops: fuse 27, 1.1 mV",
          "09:35  pull fuse: fuse 27",
          "09:40  hand over: tech 2",
        ),
      },
      expected: [left("pull fuse"), needs("remeasure"), needs("function check")],
    },
    {
      kind: "comeback",
      says: "measured from the beginning",
      job: { ...DRAWN, ...COMEBACK, steps: whole },
      expected: [],
    },
    {
      kind: "comeback",
      says: "read at once, as if it still slept from the last time",
      job: { ...DRAWN, ...COMEBACK, steps: less(whole, "08:35") },
      expected: [needs("measure"), needs("fuse drops")],
    },
  ],
};
