import type { CachePlace } from "../host/cache-place.ts";
import type { CommandLibraries } from "../host/libraries.ts";
import type * as base from "./base/commands.ts";
import type { ShowProgress } from "./base/progress.ts";
import type { check } from "./check.ts";
import type { newNote } from "./new.ts";
import type { next } from "./next.ts";
import type { NoteReader } from "./note-reader.ts";
import type { ReportForm } from "./report-form.ts";
import type { review } from "./review.ts";
import type { ruleTexts } from "./rule-texts.ts";
import type { sheet } from "./sheet.ts";
import type { site } from "./site.ts";
import type { textconv } from "./textconv.ts";
import type { why } from "./why.ts";

/** All that the command line takes from the world around it, so that a test can stand in for it. */
export interface Outside {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** The folder that the command was started in. */
  readonly folder: string;
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** Undefined where the output is no terminal. */
  readonly terminal: { readonly columns: number } | undefined;
  readonly libraries: CommandLibraries;
  /** Loads the part that knows notes and rules; help and the language server start without it. */
  readonly checker: () => {
    readonly check: typeof check;
    readonly why: typeof why;
    readonly next: typeof next;
    readonly newNote: typeof newNote;
    readonly review: typeof review;
    readonly textconv: typeof textconv;
    readonly NoteReader: typeof NoteReader;
    readonly ruleTexts: typeof ruleTexts;
  };
  /** Loads the part that makes pages. */
  readonly sheets: () => { readonly sheet: typeof sheet; readonly site: typeof site };
  /** The script that the search of a site runs in the browser. */
  readonly searchScript: () => string;
  /** Loads the part that works on many notes at once. */
  readonly base: () => typeof base;
  /** Where results are kept between runs; without it they are worked out anew. */
  readonly cache?: CachePlace | undefined;
  /** Tells how far long work is; only where there is a terminal to tell it on. */
  readonly progress?: ShowProgress | undefined;
  /** Today as `YYYY-MM-DD`, by the technician's own calendar. */
  readonly today: () => string;
  /** Threads that may share the work on many notes; without them one thread does all. */
  readonly helpers?: Helpers;
  /** Hands the process over to the language server. */
  readonly startServer: () => void;
}

export interface Helpers {
  /** Path of the thread's script. */
  readonly script: string;
  /** The number of notes from which on they are called in. */
  readonly from: number;
}

/** Exit status of the process; fixed, since scripts rely on it. */
export const EXIT = {
  /** All went well and no note has an error. */
  clear: 0,
  /** At least one finding of severity error. */
  errors: 1,
  /** The command could not do its work. */
  failed: 2,
} as const;

export type ExitStatus = (typeof EXIT)[keyof typeof EXIT];

const NARROWEST = 40;
const WIDEST = 120;
/** For an output that is no terminal: always the same, so that two runs can be compared. */
const NO_TERMINAL = 100;

/**
 * Emphasis only on a terminal, unless the conventions NO_COLOR (https://no-color.org) and FORCE_COLOR
 * (https://force-color.org) say otherwise; of both, NO_COLOR wins.
 */
export function lookFor(
  outside: Pick<Outside, "environment" | "terminal">,
): Pick<ReportForm, "emphasis" | "width"> {
  const { NO_COLOR, FORCE_COLOR, TERM } = outside.environment;
  const { terminal } = outside;
  const emphasis = NO_COLOR
    ? false
    : FORCE_COLOR
      ? FORCE_COLOR !== "0"
      : terminal !== undefined && TERM !== "dumb";
  const width =
    terminal === undefined ? NO_TERMINAL : Math.max(NARROWEST, Math.min(terminal.columns, WIDEST));
  return { emphasis, width };
}
