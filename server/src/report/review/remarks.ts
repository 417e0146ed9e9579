import type { Analysis } from "../../analysis/analysis.ts";
import type { Comment } from "../../language/syntax.ts";
import type { Topic } from "./topics.ts";

/**
 * What a reviewer should know and no rule reports, since it may well be right as it is. `lines` count from 1.
 */
export interface Remark {
  readonly topic: Topic["id"];
  readonly says: string;
  readonly advice: string;
  readonly lines: readonly number[];
}

/** Remarks on a note, in the order of the topics. */
export function remarksOn(analysis: Analysis): Remark[] {
  return [
    ...emptyFields(analysis),
    ...stepsLeft(analysis),
    ...unrecorded(analysis),
    ...bare(analysis),
    ...limits(analysis),
  ];
}

/** The three things that a finished job tells its customer and the next technician. */
function emptyFields({ note }: Analysis): Remark[] {
  const { fields } = note.frontMatter;
  const worked = fields.outcome === "repaired" || fields.outcome === "replaced";
  const wanted = [
    ...(fields.complaint ? [] : ["complaint"]),
    ...(fields.status !== "done" || fields.cause || fields.outcome === "no fault found" ? [] : ["cause"]),
    ...(fields.status !== "done" || fields.correction || !worked ? [] : ["correction"]),
    ...(fields.by ? [] : ["by"]),
  ];
  if (wanted.length === 0) return [];
  return [
    {
      topic: "missing",
      says: `The front matter has no ${inWords(
        wanted.map((key) => `\`${key}\``),
        "or",
      )}.`,
      advice:
        "Whoever reads the note later cannot ask: write what was complained of, found and done, and by whom.",
      lines: [1],
    },
  ];
}

function stepsLeft({ note }: Analysis): Remark[] {
  const lines: number[] = [];
  for (const block of note.blocks) {
    if (block.kind !== "steps") continue;
    for (const { syntax, line } of block.lines) {
      if (syntax.kind === "step" && syntax.time.minutes === undefined) lines.push(line + 1);
    }
  }
  if (lines.length === 0) return [];
  const many = lines.length > 1;
  return [
    {
      topic: "missing",
      says: `${lines.length} ${many ? "steps are" : "step is"} still to do (\`--:--\`).`,
      advice: "Write the time when a step is done, at the time it is done.",
      lines,
    },
  ];
}

function unrecorded(analysis: Analysis): Remark[] {
  const lines: number[] = [];
  for (const block of analysis.note.blocks) {
    if (block.kind !== "readings") continue;
    for (const { syntax, line } of block.lines) {
      if (syntax.kind === "formula" && syntax.recorded === undefined) lines.push(line + 1);
    }
  }
  const known = new Set(
    analysis.values.filter(({ shown }) => shown !== undefined).map(({ line }) => line + 1),
  );
  const open = lines.filter((line) => known.has(line));
  if (open.length === 0) return [];
  return [
    {
      topic: "missing",
      says: `${open.length} ${open.length === 1 ? "result is" : "results are"} not recorded (\`≈\`).`,
      advice: "Record the results, so that a reader without the checker sees them too.",
      lines: open,
    },
  ];
}

/** Readings with a unit that name no instrument and give no `±`. */
function bare({ note }: Analysis): Remark[] {
  const names: string[] = [];
  const lines: number[] = [];
  for (const block of note.blocks) {
    if (block.kind !== "readings") continue;
    for (const { syntax, line } of block.lines) {
      if (syntax.kind !== "measured" || syntax.value.kind !== "number" || !syntax.value.unit) continue;
      if (syntax.instrument || syntax.tolerance || isAccept(syntax.comment)) continue;
      names.push(`\`${syntax.name.text}\``);
      lines.push(line + 1);
    }
  }
  if (names.length === 0) return [];
  const one = names.length === 1;
  return [
    {
      topic: "unsupported",
      says: `${inWords(names)} ${one ? "rests" : "rest"} on the last digit alone: no instrument and no \`±\`.`,
      advice: "Name the instrument with `via`, or write `±` with what the reading is good for.",
      lines,
    },
  ];
}

function limits({ note }: Analysis): Remark[] {
  const lines: number[] = [];
  for (const block of note.blocks) {
    if (block.kind !== "limits") continue;
    for (const { syntax, line } of block.lines) {
      if (syntax.kind === "limit" && !syntax.source) lines.push(line + 1);
    }
  }
  if (lines.length === 0) return [];
  return [
    {
      topic: "unsupported",
      says: `${lines.length} ${lines.length === 1 ? "limit names" : "limits name"} no source.`,
      advice: "Write `source:` behind a limit: the service information, the fuse, the shop's practice.",
      lines,
    },
  ];
}

const isAccept = (comment: Comment | undefined): boolean => comment?.text.startsWith("accept") ?? false;

const MOST_NAMES = 6;

/** `a, b and c`; a long list is cut with the number left out. */
function inWords(words: readonly string[], last = "and"): string {
  const shown = words.length > MOST_NAMES ? words.slice(0, MOST_NAMES - 1) : words;
  const rest = words.length - shown.length;
  const all = rest > 0 ? [...shown, `${rest} more`] : shown;
  if (all.length < 2) return all.join("");
  return `${all.slice(0, -1).join(", ")} ${last} ${all[all.length - 1]}`;
}
