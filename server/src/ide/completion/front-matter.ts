import { FRONT_MATTER_KEYS, OUTCOMES, STATUSES } from "../../note/front-matter-schema.ts";
import type { Note } from "../../note/note.ts";
import type { Shop } from "../../shop/shop.ts";
import { lineAt } from "../../text/line-index.ts";
import type { Completion } from "./place.ts";

/** What the usual keys are for. */
const SAYS: Readonly<Record<string, string>> = {
  job: "the job's number",
  title: "a heading for lists",
  procedure: "how this kind of job is done",
  subject: "the part at hand",
  vehicle: "description, year, odometer, vin, plate",
  customer: "whose it is",
  complaint: "what was reported",
  cause: "what was found",
  correction: "what was done about it",
  by: "who works on it",
  "reviewed by": "who looked over the note",
  date: "year-month-day",
  status: "open or done",
  outcome: "how a finished job ended",
  "comeback of": "number of the first job",
};

const VALUES: Readonly<Record<string, readonly string[]>> = { status: STATUSES, outcome: OUTCOMES };

export function completeFrontMatter(note: Note, shop: Shop, offset: number): Completion[] {
  const line = lineAt(note.lines, offset);
  if (line === 0) return [];
  const start = note.lines.starts[line] ?? 0;
  const before = note.text.slice(start, offset);
  const value = /^([a-z ]+):[ \t]+([^#]*)$/i.exec(before);
  if (value) return values(value[1]?.toLowerCase() ?? "", value[2] ?? "", shop, offset);
  if (!/^[a-z][a-z ]*$|^$/i.test(before)) return [];
  return FRONT_MATTER_KEYS.filter((key) => !note.frontMatter.at.has(key)).map((key) => ({
    label: key,
    kind: "key",
    text: `${key}: `,
    replaces: { from: start, to: offset },
    ...(SAYS[key] ? { detail: SAYS[key] } : {}),
  }));
}

function values(key: string, typed: string, shop: Shop, offset: number): Completion[] {
  const replaces = { from: offset - typed.length, to: offset };
  if (key === "procedure") {
    return [...shop.procedures.values()].map((procedure) => ({
      label: procedure.id,
      kind: "value",
      text: procedure.id,
      replaces,
      detail: procedure.title,
      about: procedure.id,
    }));
  }
  return (VALUES[key] ?? []).map((text) => ({ label: text, kind: "value", text, replaces }));
}
