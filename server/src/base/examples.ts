import type { NoteRecord } from "./record.ts";

/** Enough notes to tell what a shop measures most. */
const LOOKED_AT = 500;
const MOST_READINGS = 3;

/** Conditions that these notes can answer: for somebody who has not asked before. */
export function examplesFrom(notes: readonly NoteRecord[]): string[] {
  const numbers = new Map<string, { readonly unit: string; readonly values: number[] }>();
  const procedures = new Map<string, number>();
  for (const { values, fields } of notes.slice(-LOOKED_AT)) {
    const { procedure } = fields;
    if (typeof procedure === "string") procedures.set(procedure, (procedures.get(procedure) ?? 0) + 1);
    for (const { name, value, unit } of values) {
      if (typeof value !== "number" || unit === undefined) continue;
      const known = numbers.get(name.toLowerCase());
      if (known === undefined) numbers.set(name.toLowerCase(), { unit, values: [value] });
      else if (known.unit === unit) known.values.push(value);
    }
  }
  const readings = [...numbers]
    .sort(([, a], [, b]) => b.values.length - a.values.length)
    .slice(0, MOST_READINGS)
    .map(([name, { unit, values }]) => `${name} > ${Number(median(values).toPrecision(2))} ${unit}`);
  const [procedure] = [...procedures].sort(([, a], [, b]) => b - a)[0] ?? [];
  const [reading] = readings;
  if (procedure === undefined) return readings;
  const is = `procedure is "${procedure}"`;
  return reading === undefined ? [is] : [...readings, `${is} and ${reading}`];
}

function median(values: number[]): number {
  const sorted = values.sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}
