import type { Analysis, Finding } from "../analysis/analysis.ts";
import type { MeasuredLine, StepLine } from "../language/syntax.ts";
import type { Note } from "../note/note.ts";
import { findStep, type Procedure } from "../procedures/procedure.ts";
import type { Shop } from "../shop/shop.ts";
import { lineAt } from "../text/line-index.ts";
import type { OwnUnits } from "../units/index.ts";
import { ownUnit, unitsAsText } from "./own-units-text.ts";
import type { FindingRecord, NoteRecord, StepRecord, ValueRecord } from "./record.ts";
import { columnRecords } from "./series-columns.ts";

/** More repeated readings than this are a log; its mean and spread say enough. */
const MOST_READINGS = 100;
const MOST_WORDS = 1000;

/** The record of a note that was analyzed. `path` as it is to be shown. */
export function makeRecord(path: string, analysis: Analysis, shop: Shop): NoteRecord {
  const { note } = analysis;
  const procedure = shop.procedures.get(note.frontMatter.fields.procedure ?? "");
  const steps = stepRecords(note, procedure);
  const day = note.frontMatter.fields.date ?? steps.find((step) => step.day !== undefined)?.day;
  const columns = columnRecords(analysis);
  return {
    path,
    fields: fieldsOf(note),
    ...(day === undefined ? {} : { day }),
    values: valueRecords(analysis, shop.units),
    ...(columns.length === 0 ? {} : { columns }),
    steps,
    findings: [
      ...analysis.findings.map((finding) => findingRecord(finding, note)),
      ...analysis.accepted.map(({ finding, reason }) => ({
        ...findingRecord(finding, note),
        accepted: reason,
      })),
    ],
    ...(shop.units ? { units: unitsAsText(shop.units) } : {}),
    words: wordsOf(note, steps),
  };
}

/** Keys that the fields have under another name than the front matter's own. */
const WRITTEN: Readonly<Record<string, string>> = { reviewedBy: "reviewed by", comebackOf: "comeback of" };

function fieldsOf(note: Note): Record<string, string | readonly string[]> {
  const fields: Record<string, string | readonly string[]> = {};
  for (const [key, value] of Object.entries(note.frontMatter.fields)) {
    if (typeof value === "string" || Array.isArray(value)) fields[WRITTEN[key] ?? key] = value;
    else if (typeof value === "object" && value !== null) {
      for (const [part, said] of Object.entries(value)) {
        if (said !== undefined) fields[`${key} ${part}`] = String(said);
      }
    }
  }
  return fields;
}

function valueRecords({ note, values }: Analysis, own: OwnUnits | undefined): ValueRecord[] {
  const written = new Map<number, { readonly label: string; readonly line: MeasuredLine | undefined }>();
  for (const block of note.blocks) {
    if (block.kind !== "readings") continue;
    for (const { line, syntax } of block.lines) {
      written.set(line, { label: block.label, line: syntax.kind === "measured" ? syntax : undefined });
    }
  }
  return values.map(({ name, kind, shown, line }): ValueRecord => {
    const from = written.get(line);
    const label = from?.label ? { label: from.label } : {};
    const instrument = from?.line?.instrument ? { instrument: from.line.instrument.text } : {};
    const base = {
      name: from?.label ? name.slice(from.label.length + 1) : name,
      ...label,
      kind,
      ...instrument,
      line: line + 1,
    };
    if (shown === undefined) return base;
    if (shown.kind !== "quantity")
      return { ...base, value: shown.kind === "text" ? shown.text : shown.text === "yes" };
    const numbers =
      from?.line?.value.kind === "number" ? from.line.value.numbers.map((number) => number.value) : [];
    const unitIs = ownUnit(shown.unit, own);
    return {
      ...base,
      value: shown.value,
      ...(shown.unit === "" ? {} : { unit: shown.unit }),
      ...(unitIs ? { unitIs } : {}),
      ...(shown.uncertainty === null ? {} : { uncertainty: Number(shown.uncertainty.toPrecision(4)) }),
      // With a display unit of its own the numbers as read stand in another unit than the value.
      ...(numbers.length > 1 && numbers.length <= MOST_READINGS && from?.line?.displayUnit === undefined
        ? { readings: numbers }
        : {}),
    };
  });
}

const DAY = 24 * 60;

function stepRecords(note: Note, procedure: Procedure | undefined): StepRecord[] {
  const steps: { -readonly [K in keyof StepRecord]: StepRecord[K] }[] = [];
  let day = note.frontMatter.fields.date;
  for (const block of note.blocks) {
    if (block.kind !== "steps") continue;
    for (const { line, syntax } of block.lines) {
      if (syntax.kind === "date") day = syntax.date.iso;
      if (syntax.kind !== "step") continue;
      const last = steps[steps.length - 1];
      const at = syntax.time.minutes;
      if (last?.at !== undefined && last.minutes === undefined && at !== undefined && last.day === day) {
        const lasted = at - last.at;
        if (lasted >= 0) last.minutes = lasted;
      }
      const minutes = minutesUntil(syntax, day);
      const found = procedure && findStep(procedure, syntax.step.text);
      steps.push({
        step: found?.ok ? found.step.name : syntax.step.text,
        ...(syntax.place ? { place: syntax.place.text } : {}),
        ...(day === undefined ? {} : { day }),
        ...(at === undefined ? {} : { at }),
        ...(minutes === undefined ? {} : { minutes }),
        ...(syntax.outcome ? { outcome: syntax.outcome.word } : {}),
        ...(syntax.remark ? { remark: syntax.remark.text } : {}),
        line: line + 1,
      });
    }
  }
  return steps;
}

function minutesUntil({ time, until }: StepLine, day: string | undefined): number | undefined {
  if (time.minutes === undefined || until?.time.minutes === undefined) return undefined;
  const days = until.date && day ? (Date.parse(until.date.iso) - Date.parse(day)) / (DAY * 60_000) : 0;
  const minutes = days * DAY + until.time.minutes - time.minutes;
  // Without a date an end before the start is that of the next morning.
  return minutes < 0 && !until.date ? minutes + DAY : minutes < 0 ? undefined : minutes;
}

const findingRecord = ({ rule, severity, message, range }: Finding, note: Note): FindingRecord => ({
  rule,
  severity,
  message,
  line: lineAt(note.lines, range.from) + 1,
});

const WORD = /[\p{L}\p{N}]{2,}/gu;

/** Each word once: how often a note says it tells little, and ten thousand notes have to fit. */
function wordsOf(note: Note, steps: readonly StepRecord[]): string {
  const seen = new Set<string>();
  const take = (text: string): void => {
    for (const [word] of text.toLowerCase().matchAll(WORD)) {
      if (seen.size < MOST_WORDS && !/^\d+$/.test(word)) seen.add(word);
    }
  };
  let from = note.frontMatter.range.to;
  for (const { range } of note.blocks) {
    take(note.text.slice(from, range.from));
    from = range.to;
  }
  take(note.text.slice(from));
  for (const { step, place, remark } of steps) take(`${step} ${place ?? ""} ${remark ?? ""}`);
  return [...seen].join(" ");
}
