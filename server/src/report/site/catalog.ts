import type { NoteRecord } from "../../base/record.ts";
import type { Procedure } from "../../procedures/procedure.ts";
import type { RuleText } from "../rule-text.ts";
import { type SiteMap, siteMap } from "./site-map.ts";

/** A note with what every list says of it. */
export interface Entry {
  readonly record: NoteRecord;
  readonly page: string;
  readonly job: string;
  readonly subject: string;
  readonly procedure: string;
  readonly vehicle: string;
  /** `open`, `done, repaired`; empty where the note does not say. */
  readonly state: string;
  readonly open: boolean;
  readonly errors: number;
  readonly warnings: number;
  readonly accepted: number;
}

/** All notes of a site, in order, and what leads from one to another. Made once, before any page. */
export interface Catalog {
  readonly title: string;
  readonly map: SiteMap;
  /** Latest first; those without a day last. */
  readonly entries: readonly Entry[];
  readonly byPath: ReadonlyMap<string, Entry>;
  /** Notes of a job number; more than one where a number was given twice. */
  byJob(job: string): readonly Entry[];
  /** Notes that came back after this one. */
  comebacks(entry: Entry): readonly Entry[];
  readonly years: readonly Group[];
  readonly procedures: readonly Group[];
  readonly rules: readonly RuleGroup[];
  procedureTitle(id: string): string;
  procedure(id: string): Procedure | undefined;
}

/** Notes that have something in common, with the page that lists them. */
export interface Group {
  readonly name: string;
  readonly title: string;
  readonly page: string;
  readonly entries: readonly Entry[];
}

export interface RuleGroup extends Group {
  readonly rule: RuleText;
}

export function makeCatalog(
  title: string,
  records: readonly NoteRecord[],
  rules: readonly RuleText[],
  procedures: ReadonlyMap<string, Procedure>,
): Catalog {
  const map = siteMap(records);
  const procedureTitle = (id: string): string => procedures.get(id)?.title ?? id;
  const entries = records
    .map((record) => entryOf(record, map.page(record.path) ?? "", procedureTitle))
    .sort((a, b) => compare(b.record.day ?? "", a.record.day ?? "") || compare(a.job, b.job));
  const jobs = grouped(entries, ({ job }) => [job.toLowerCase()]);
  const returned = grouped(entries, ({ record }) => {
    const of = text(record, "comeback of").toLowerCase();
    return of === "" ? [] : [of];
  });
  const groups = (
    by: ReadonlyMap<string, readonly Entry[]>,
    folder: string,
    titleOf: (name: string) => string,
  ): Group[] =>
    [...by].map(([name, members]) => ({
      name,
      title: titleOf(name),
      page: map.named(folder, name),
      entries: members,
    }));
  const byRule = grouped(entries, ({ record }) => [
    ...new Set(record.findings.filter((one) => one.accepted === undefined).map((one) => one.rule)),
  ]);
  return {
    title,
    map,
    entries,
    byPath: new Map(entries.map((entry) => [entry.record.path, entry])),
    byJob: (job) => jobs.get(job.toLowerCase()) ?? [],
    comebacks: ({ job }) => returned.get(job.toLowerCase()) ?? [],
    years: groups(
      grouped(entries, ({ record }) => [record.day?.slice(0, 4) ?? ""]),
      "years",
      (year) => (year === "" ? "Without a day" : year),
    ),
    procedures: groups(
      grouped(entries, ({ record }) => [text(record, "procedure")]),
      "procedures",
      (id) => (id === "" ? "Without a procedure" : procedureTitle(id)),
    ).sort((a, b) => b.entries.length - a.entries.length),
    rules: rules.map((rule) => ({
      name: rule.id,
      title: rule.page.title,
      page: map.named("rules", rule.id.replace("/", "-")),
      entries: byRule.get(rule.id) ?? [],
      rule,
    })),
    procedureTitle,
    procedure: (id) => procedures.get(id),
  };
}

function entryOf(record: NoteRecord, page: string, titleOf: (id: string) => string): Entry {
  const count = (wanted: (one: NoteRecord["findings"][number]) => boolean): number =>
    record.findings.filter(wanted).length;
  const status = text(record, "status");
  return {
    record,
    page,
    job: text(record, "job") || "without a number",
    subject: text(record, "subject") || text(record, "title") || text(record, "complaint"),
    procedure: titleOf(text(record, "procedure")),
    vehicle: [
      text(record, "vehicle description"),
      text(record, "vehicle make"),
      text(record, "vehicle model"),
      text(record, "vehicle year"),
    ]
      .filter((part) => part !== "")
      .join(", "),
    state: [status, text(record, "outcome")].filter((part) => part !== "").join(", "),
    open: status === "open",
    errors: count((one) => one.accepted === undefined && one.severity === "error"),
    warnings: count((one) => one.accepted === undefined && one.severity === "warning"),
    accepted: count((one) => one.accepted !== undefined),
  };
}

/** The words of a field; those of a list one after the other. */
export function text(record: NoteRecord, field: string): string {
  const said = record.fields[field];
  return said === undefined ? "" : typeof said === "string" ? said : said.join("; ");
}

export const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

function grouped(
  entries: readonly Entry[],
  keysOf: (entry: Entry) => readonly string[],
): Map<string, Entry[]> {
  const groups = new Map<string, Entry[]>();
  for (const entry of entries) {
    for (const key of keysOf(entry)) {
      const group = groups.get(key);
      if (group) group.push(entry);
      else groups.set(key, [entry]);
    }
  }
  return groups;
}
