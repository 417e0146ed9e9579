import { type FoundTexts, findTexts } from "../host/find-texts.ts";
import { KeyedSource } from "../host/keyed-source.ts";
import { fromDisk, type NoteSource } from "../host/note-source.ts";
import { add, NOTHING } from "../report/checked.ts";
import { harmless } from "../report/display-width.ts";
import { CheckCache } from "./check-cache.ts";
import { FileChecker, type FileOutcome, shownPath } from "./file-checker.ts";
import { Interruption } from "./interruption.ts";
import { EXIT, type ExitStatus, lookFor, type Outside } from "./outside.ts";
import { frameFor, type ReportForm } from "./report-form.ts";
import { shareWork, type Work } from "./shared-work.ts";
import { findStaged } from "./staged.ts";

export interface CheckOptions extends Pick<ReportForm, "format" | "quiet" | "values"> {
  /** Errors do not change the exit status; for showing, not for guarding. */
  readonly exitZero: boolean;
  /** What the next commit would hold instead of what lies in the folder. */
  readonly staged?: boolean;
}

/** `witness-mark check`: checks notes and shop files and reports what it finds. */
export async function check(
  asked: readonly string[],
  options: CheckOptions,
  outside: Outside,
): Promise<ExitStatus> {
  const { folder, libraries } = outside;
  const look = lookAt(asked, options, outside);
  if (typeof look === "string") {
    outside.err(`${harmless(look)}\n`);
    return EXIT.failed;
  }
  const { found, source, helpers } = look;
  const { format, quiet, values } = options;
  const form: ReportForm = { format, quiet, values, ...lookFor(outside) };
  const frame = frameFor(form, libraries);
  const keyed = source === undefined ? new KeyedSource(fromDisk(libraries)) : undefined;
  const cache = keyed && CheckCache.open(outside.cache, found.notes, folder, form, keyed);
  const checker = new FileChecker(folder, form, libraries, source ?? (cache && keyed));
  const out = gathering(outside.out);
  const seenShops = new Set<string>();
  let totals = NOTHING;
  let written = 0;
  let failed = false;

  const fail = (path: string, reason: string): void => {
    failed = true;
    outside.err(`${harmless(path)} ${reason}.\n`);
  };
  const report = (path: string, outcome: FileOutcome): void => {
    if (outcome.failure !== undefined) fail(shownPath(path, folder), outcome.failure);
    if (outcome.totals !== undefined) totals = add(totals, outcome.totals);
    if (outcome.written === undefined) return;
    out.write(written++ === 0 ? outcome.written : frame.between + outcome.written);
  };
  const reportShop = (path: string): void => {
    if (seenShops.has(path)) return;
    seenShops.add(path);
    report(path, cache ? cache.shop(path, () => checker.shop(path)) : checker.shop(path));
  };
  const reportNote = (path: string, outcome: FileOutcome): void => {
    if (outcome.shop !== undefined) reportShop(outcome.shop);
    if (outcome.noJob && found.named.has(path)) {
      const shown = shownPath(path, folder);
      if (outcome.unreadable !== undefined) fail(shown, outcome.unreadable);
      else outside.err(`${harmless(shown)} is no job note: its front matter has no \`job:\`.\n`);
    }
    report(path, outcome);
  };

  for (const { path, reason } of found.failures) fail(path, reason);
  out.write(frame.head);
  for (const path of found.shops) reportShop(path);
  const work = { paths: found.notes, folder, form, keyed: cache !== undefined };
  // Without a cache nothing is written that would have to be taken back, and the system ends the run at once.
  const stop = cache && new Interruption();
  try {
    await checkAll(checker, work, { cache, helpers, stop }, reportNote);
  } finally {
    stop?.end();
    cache?.save();
  }
  if (stop?.wanted) {
    outside.err("Stopped before all notes were checked.\n");
    return EXIT.failed;
  }
  out.write(frame.tail(totals));
  out.flush();
  if (failed) return EXIT.failed;
  return totals.errors > 0 && !options.exitZero ? EXIT.errors : EXIT.clear;
}

/** What the work on the notes goes on with. */
interface Running {
  readonly cache: CheckCache | undefined;
  readonly helpers: Outside["helpers"];
  readonly stop: Interruption | undefined;
}

/** After so many notes that are known already a signal is let in. */
const BREATH = 500;

/** Hands on the outcomes of all notes in their order, those that an earlier check kept among the new ones. */
async function checkAll(
  checker: FileChecker,
  work: Work,
  { cache, helpers, stop }: Running,
  each: (path: string, outcome: FileOutcome) => void,
): Promise<void> {
  const known = new Map<string, () => FileOutcome>();
  for (const [index, path] of (cache ? work.paths : []).entries()) {
    const outcome = cache?.note(path);
    if (outcome !== undefined) known.set(path, outcome);
    if (index % BREATH === 0 && stop && !(await stop.goesOn())) return;
  }
  let passedOn = 0;
  const passKnown = (): void => {
    for (;;) {
      const path = work.paths[passedOn];
      const outcome = path === undefined ? undefined : known.get(path);
      if (path === undefined || outcome === undefined) return;
      each(path, outcome());
      passedOn++;
    }
  };
  const paths = known.size === 0 ? work.paths : work.paths.filter((path) => !known.has(path));
  passKnown();
  const take = (path: string, outcome: FileOutcome): void => {
    cache?.keep(outcome);
    each(path, outcome);
    passedOn++;
    passKnown();
  };
  await shareWork(checker, { ...work, paths }, helpers, take, stop);
}

/** What is to be checked and where it is read from; a sentence where that cannot be told. */
function lookAt(
  asked: readonly string[],
  { staged }: CheckOptions,
  { folder, libraries, helpers }: Outside,
):
  | { readonly found: FoundTexts; readonly source?: NoteSource; readonly helpers?: Outside["helpers"] }
  | string {
  if (!staged) return { found: findTexts(asked.length === 0 ? ["."] : asked, folder), helpers };
  const found = findStaged(asked, folder, libraries);
  if (!found.ok) return found.reason;
  const { notes, shops, source } = found.value;
  // The index is read through git in a few questions; threads of their own would have to ask again.
  return { found: { notes, shops, named: new Set(), failures: [] }, source };
}

const PIECE = 64 * 1024;

/** Puts small texts together before they are written, since each write is a call to the system. */
function gathering(out: (text: string) => void) {
  let waiting = "";
  const flush = (): void => {
    if (waiting !== "") out(waiting);
    waiting = "";
  };
  const write = (text: string): void => {
    waiting += text;
    if (waiting.length >= PIECE) flush();
  };
  return { write, flush };
}
