import type { Procedure, Step } from "../../server/src/procedures/procedure.ts";
import type { Evidence } from "../../server/src/procedures/procedure-schema.ts";

/** The words that a careful technician puts into a step's remark: its outcome, and what only words can show. */
export function remarkFor(step: Step, procedure: Procedure, outcome: string | undefined): string {
  const words: string[] = outcome === undefined ? [] : [outcome];
  const say = (shownBy: readonly Evidence[]): void => {
    const first = shownBy.find((one) => "words" in one || "quantity" in one || "medium" in one);
    if (!first) return;
    if ("words" in first) words.push((first.words[0] ?? "").replace(/\*$/, ""));
    else if ("quantity" in first) words.push(first.atLeast ?? first.atMost ?? "1 A");
    else words.push("nitrogen");
  };
  const makeable = new Set(procedure.steps.flatMap((one) => one.makes));
  for (const need of step.needs) {
    for (const term of "all" in need ? need.all : []) {
      if (typeof term !== "string" || makeable.has(term)) continue;
      say(procedure.conditions.get(term)?.shownBy ?? []);
    }
  }
  if (step.evidence) say(step.evidence.anyOf);
  return words.filter((word) => word !== "").join(", ");
}

const DAY = 24 * 60;
const START = Date.UTC(2031, 2, 4) / 60_000;
const dateOf = (minutes: number): string => new Date((START + minutes) * 60_000).toISOString().slice(0, 10);
const clockOf = (minutes: number): string => new Date((START + minutes) * 60_000).toISOString().slice(11, 16);

/** Writes lines with times that go on and dates where a day begins. Minutes count from 2031-03-04 00:00. */
export class Clerk {
  readonly lines: string[] = [];
  #day = -1;
  now = 8 * 60;

  write(rest: string): void {
    const day = Math.floor(this.now / DAY);
    if (day !== this.#day) this.lines.push(dateOf(this.now));
    this.#day = day;
    this.lines.push(`${clockOf(this.now)}  ${rest}`);
  }

  /** Does a step well, as long as it takes. */
  do(step: Step, words: string, procedure: Procedure): void {
    const proof = step.provedBy?.[0] ?? step.outcome?.split(/, | or /)[0];
    const remark = remarkFor(step, procedure, proof);
    const takes = step.makes.flatMap((name) => procedure.conditions.get(name)?.takes ?? [])[0];
    const end = takes ? this.now + (takes.since === undefined ? 60 : 2 * DAY) : undefined;
    const until = end === undefined ? "" : `until ${dateOf(end)} ${clockOf(end)}`;
    const said = [remark, until].filter((part) => part !== "").join(", ");
    this.write(`${words}${said === "" ? "" : `: ${said}`}`);
    this.now = (end ?? this.now) + 5;
  }

  /** Goes on after lines that were written already. */
  readOn(lines: readonly string[]): void {
    for (const line of lines) {
      if (/^\d{4}-/.test(line)) this.#day = Math.round((Date.parse(`${line}T00:00Z`) / 60_000 - START) / DAY);
      const time = /^(\d\d):(\d\d) /.exec(line);
      if (time) this.now = this.#day * DAY + Number(time[1]) * 60 + Number(time[2]) + 5;
    }
  }
}

/** The note with its steps still to do done in order, right after the others. */
export function asDone(text: string, procedure: Procedure): string {
  const all = text.split("\n");
  const clerk = new Clerk();
  clerk.readOn(["2031-03-04", ...all]);
  const out: string[] = [];
  for (const line of all) {
    const planned = /^--:-- {2}(([^:[\]]+?)(?: \[[^\]]+\])?)$/.exec(line);
    const step = procedure.stepsByWords.get(planned?.[2] ?? "");
    if (!planned || !step) {
      out.push(line);
      continue;
    }
    clerk.lines.length = 0;
    clerk.do(step, planned[1] ?? "", procedure);
    out.push(...clerk.lines);
  }
  return out.join("\n");
}
