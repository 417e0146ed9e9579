import { calibrationDueOn } from "../shop/shop.ts";
import { dayOf, daysOfNote } from "./days.ts";
import type { Report, Rule, RulePage } from "./rule.ts";
import { type TakenReading, takenReadings } from "./taken-readings.ts";

export const rule: Rule = {
  id: "instrument/calibration-due",
  severity: "warning",
  why: "An instrument that is overdue may have drifted, and nobody can say by how much until it is checked.",
  *check(subject): Iterable<Report> {
    const readings = takenReadings(subject).filter(({ instrument }) => instrument?.calibrationDue);
    const days = readings.length > 0 ? daysOfNote(subject.note) : [];
    if (days.length === 0) return;
    const last = days.at(-1)?.day;
    const overdue = new Map<string, { reading: TakenReading; due: string; day: string; sure: boolean }[]>();
    for (const reading of readings) {
      const { instrument } = reading;
      const latest = instrument?.calibrationDue;
      if (instrument === undefined || latest === undefined || last === undefined) continue;
      // With one calibration known, nothing up to its due day can be late.
      if (latest >= last && instrument.calibrations?.length === 1) continue;
      const on = dayOf(days, reading.line.at?.minutes);
      const dueOn = (day: string): string => calibrationDueOn(instrument, day) ?? latest;
      const late = on.filter((day) => day > dueOn(day));
      const day = late[0];
      if (day === undefined) continue;
      const due = dueOn(day);
      const list = overdue.get(reading.via.key) ?? [];
      list.push({ reading, due, day, sure: late.length === on.length });
      overdue.set(reading.via.key, list);
    }
    for (const [first, ...others] of overdue.values()) {
      if (!first) continue;
      const { reading, due, day, sure } = first;
      const id = reading.instrument?.id ?? reading.via.text;
      yield {
        range: reading.viaRange,
        message: sure
          ? `The calibration of \`${id}\` was due on ${due}; this was read on ${day}.`
          : `The calibration of \`${id}\` was due on ${due}; if this was read on ${day}, it was overdue.`,
        advice: sure
          ? "Have it calibrated and read again, or compare it with one that is in date. Once it is calibrated, enter the day in the shop file."
          : "Write the time of the reading with `at`, so that its day is known, or compare the instrument with one that is in date.",
        // One instrument overdue is one matter, however often it was used.
        related: others.map((other) => ({
          range: other.reading.viaRange,
          message: `Also read with \`${id}\`.`,
        })),
      };
    }
  },
};

const shop = (calibrated: string) =>
  `instruments:\n  P1:\n    measures: pressure\n    range: 0 to 2 psi\n    accuracy: 1 % of full scale\n    calibrated: ${calibrated}\n    interval: 12 months\n`;
const NOTE = "---\njob: example\ndate: 2031-03-04\n---\n\n```readings\ntest pressure: 0.80 psi via P1\n```\n";

export const page: RulePage = {
  title: "An instrument overdue for calibration",
  means:
    "The reading's day (from the date line of its steps, else the front matter's `date`) is past the day on which the instrument's calibration was due. Where the shop file lists several calibrations, the last one before the reading counts. The first reading through the instrument carries the finding; the others are named with it.",
  mend: "Have the instrument calibrated and read again, or show against one in date that it still reads right.",
  source: "Calibration intervals are the shop's own, from the shop file; common practice, no source.",
  breaks: { shop: shop("2030-02-10"), note: NOTE },
  keeps: { shop: shop("2030-11-12"), note: NOTE },
};
