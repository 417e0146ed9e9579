import { dirname, isAbsolute, relative, resolve, sep } from "node:path";
import type { NoteRecord } from "../base/record.ts";
import { NewFolder } from "../host/new-folder.ts";
import { fromDisk } from "../host/note-source.ts";
import { reasonOf } from "../host/read-text.ts";
import type { Procedure } from "../procedures/procedure.ts";
import { harmless } from "../report/display-width.ts";
import { SHEET_STYLE } from "../report/sheet/sheet-style.ts";
import { type Catalog, makeCatalog } from "../report/site/catalog.ts";
import { layout, type SitePage } from "../report/site/layout.ts";
import { listPages } from "../report/site/lists.ts";
import { planNotePage } from "../report/site/note-page.ts";
import { searchIndex, searchPage } from "../report/site/search.ts";
import { SITE_ICON, SITE_STYLE } from "../report/site/site-style.ts";
import { counted } from "../report/site/tables.ts";
import { valueGroups, valuePage, valuesIndex } from "../report/site/values.ts";
import { Progress } from "./base/progress.ts";
import { Interruption } from "./interruption.ts";
import type { NoteReader } from "./note-reader.ts";
import { EXIT, type ExitStatus, type Outside } from "./outside.ts";
import { shareWork } from "./shared-work.ts";
import { SitePages, type SitePlan } from "./site-pages.ts";

export interface SiteOptions {
  readonly title: string;
  readonly quiet: boolean;
}

/** Tells a site made here; only such a folder is ever replaced. */
const MARK = ".witness-mark-site";

/** `witness-mark site OUT`: all notes as pages that need no server. */
export async function site(
  out: string,
  asked: readonly string[],
  options: SiteOptions,
  outside: Outside,
): Promise<ExitStatus> {
  const { folder } = outside;
  const fail = (why: string): ExitStatus => {
    outside.err(`${harmless(why)}.\n`);
    return EXIT.failed;
  };
  const target = resolve(folder, out);
  const paths = asked.length === 0 ? ["."] : asked;
  // The notes themselves must not lie in what is replaced.
  if (paths.some((path) => isWithin(resolve(folder, path), target)))
    return fail(`${out} holds the notes themselves. Name another folder for the site`);

  const opened = await outside.base().openBase(paths, options.quiet, outside);
  if (opened === undefined) return EXIT.failed;
  const { base, failed } = opened;
  // From before the first thing that would have to be taken away again.
  const stop = new Interruption();
  const made = NewFolder.beside(target, MARK);
  if (typeof made === "string") {
    stop.end();
    return fail(`${out} ${made}`);
  }
  try {
    const done = await new SiteMaker(made, base.notes, options, outside).make(stop);
    if (!done) {
      made.discard();
      return fail(`Stopped before the end; ${out} is as it was`);
    }
    made.finish();
  } catch (fault) {
    made.discard();
    const code = fault instanceof Error && "code" in fault;
    if (!code) throw fault;
    return fail(`${out} cannot be written: a file in it ${reasonOf(fault)}`);
  } finally {
    stop.end();
  }
  if (!options.quiet) {
    outside.out(
      `${harmless(out)} holds ${counted(base.notes.length, "job", "jobs")}. Open ${harmless(out)}/index.html.\n`,
    );
  }
  return failed ? EXIT.failed : EXIT.clear;
}

/** Whether a path is the folder itself or lies in it. */
function isWithin(path: string, folder: string): boolean {
  const way = relative(folder, path);
  return way === "" || (way !== ".." && !way.startsWith(`..${sep}`) && !isAbsolute(way));
}

/** After so many pages a signal is let in. */
const BREATH = 25;

/** Pages take some eight times the work of a check, so fewer notes are worth a thread of their own. */
const DEARER = 8;

class SiteMaker {
  readonly #reader: NoteReader;
  readonly #catalog: Catalog;
  #pages = 0;

  constructor(
    private readonly made: NewFolder,
    private readonly notes: readonly NoteRecord[],
    private readonly options: SiteOptions,
    private readonly outside: Outside,
  ) {
    const { NoteReader, ruleTexts } = outside.checker();
    this.#reader = new NoteReader(outside.folder, outside.libraries);
    this.#catalog = makeCatalog(options.title, notes, ruleTexts(), this.#procedures());
  }

  /** False when it was stopped. */
  async make(stop: Interruption): Promise<boolean> {
    const { made } = this;
    const { entries, title, rules } = this.#catalog;
    made.write("site.css", SHEET_STYLE + SITE_STYLE);
    made.write("icon.svg", SITE_ICON);
    made.write("search.js", this.outside.searchScript());
    made.write("search-index.js", searchIndex(entries));
    this.#put(searchPage());
    for (const page of this.#listed()) {
      this.#put(page);
      if (this.#pages % BREATH === 0 && !(await stop.goesOn())) return false;
    }
    await this.#notes(
      {
        into: made.part,
        title,
        notes: new Map(entries.map((entry) => [entry.record.path, planNotePage(this.#catalog, entry)])),
        rules: new Map(rules.map(({ name, page }) => [name, page])),
      },
      stop,
    );
    return stop.goesOn();
  }

  async #notes(plan: SitePlan, stop: Interruption): Promise<void> {
    const { folder, progress: line, helpers } = this.outside;
    const paths = [...plan.notes.keys()].map((shown) => resolve(folder, shown));
    const progress = new Progress("Writing pages", paths.length, this.options.quiet ? undefined : line);
    await shareWork(
      new SitePages(plan, folder, this.#reader),
      { paths, folder, site: plan },
      helpers && { ...helpers, from: Math.ceil(helpers.from / DEARER) },
      () => {
        progress.step();
        if (progress.due) progress.draw();
      },
      stop,
    ).finally(() => progress.done());
  }

  *#listed(): Generator<SitePage> {
    yield* listPages(this.#catalog);
    const groups = valueGroups(this.#catalog);
    yield valuesIndex(groups);
    for (const group of groups) yield valuePage(group);
  }

  #put(page: SitePage): void {
    this.#pages++;
    this.made.write(page.page, layout(this.#catalog.title, page));
  }

  /** The built-in procedures with those of all shops that the notes belong to. */
  #procedures(): ReadonlyMap<string, Procedure> {
    const { libraries, folder } = this.outside;
    const all = new Map(libraries.procedures().map((procedure) => [procedure.id, procedure]));
    const disk = fromDisk(libraries);
    const seen = new Set<string>();
    for (const { path } of this.notes) {
      const shop = disk.shopFor(dirname(resolve(folder, path)));
      if (shop === undefined || seen.has(shop)) continue;
      seen.add(shop);
      for (const [id, procedure] of this.#reader.shop(shop).shop.procedures) all.set(id, procedure);
    }
    return all;
  }
}
