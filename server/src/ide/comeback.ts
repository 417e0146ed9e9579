import type { FrontMatterFields } from "../note/front-matter.ts";
import type { Note, Range } from "../note/note.ts";
import { type Card, type CardPart, list, says } from "./card.ts";

/** The job that a note says it follows, and where it says so. */
export interface Comeback {
  readonly job: string;
  readonly range: Range;
}

export function comebackOf({ frontMatter }: Note): Comeback | undefined {
  const job = frontMatter.fields.comebackOf?.trim();
  const range = frontMatter.at.get("comeback of");
  return job && range ? { job, range } : undefined;
}

/** The same where the value stands at an offset. */
export function comebackAt(note: Note, offset: number): Comeback | undefined {
  const comeback = comebackOf(note);
  return comeback && comeback.range.from <= offset && offset <= comeback.range.to ? comeback : undefined;
}

/** Job numbers are the same whatever their capitals, as everywhere in the knowledge base. */
export const jobKey = (job: string): string => job.trim().toLowerCase();

/** A note of the first job. */
export interface FirstJob {
  /** As shown. */
  readonly path: string;
  readonly fields: FrontMatterFields;
}

/** What a hover says of the first job: enough to tell whether the same thing came back. */
export function firstJobCard({ job }: Comeback, [first, ...others]: readonly FirstJob[]): Card {
  if (!first) {
    return {
      title: `Job ${job}`,
      parts: [
        says("No other note of the open folders has this job number."),
        says("Check the number, or open the folder that its note lies in."),
      ],
    };
  }
  const { fields, path } = first;
  const facts: CardPart[] = [];
  const fact = (heading: string, text: string | undefined): void => {
    if (text) facts.push(list(heading, [text]));
  };
  fact("Date", fields.date);
  fact("Complaint", fields.complaint);
  fact("Cause", fields.cause);
  fact("Correction", fields.correction);
  fact("Status", [fields.status, fields.outcome].filter(Boolean).join(", "));
  fact("Note", path);
  if (others.length > 0)
    facts.push(
      list(
        "The same number has",
        others.map((other) => other.path),
      ),
    );
  return { title: fields.subject ? `Job ${job}: ${fields.subject}` : `Job ${job}`, parts: facts };
}
