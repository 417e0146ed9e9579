import { createHash } from "node:crypto";
import { dirname, isAbsolute, relative, resolve, sep } from "node:path";
import type { NoteRecord } from "../base/record.ts";
import { NewFolder } from "../host/new-folder.ts";
import { fromDisk } from "../host/note-source.ts";
import { pictureAt } from "../host/picture.ts";
import { reasonOf } from "../host/read-text.ts";
import { filePartOf } from "../note/prose-links.ts";
import type { Procedure } from "../procedures/procedure.ts";
import { harmless } from "../report/display-width.ts";
import { SHEET_STYLE } from "../report/sheet/sheet-style.ts";
import { type Catalog, makeCatalog } from "../report/site/catalog.ts";
import { layout, type SitePage } from "../report/site/layout.ts";
import { listPages } from "../report/site/lists.ts";
import { notePage } from "../report/site/note-page.ts";
import { searchIndex, searchPage } from "../report/site/search.ts";
import { wayTo } from "../report/site/site-map.ts";
import { SITE_ICON, SITE_STYLE } from "../report/site/site-style.ts";
import { counted } from "../report/site/tables.ts";
import { valueGroups, valuePage, valuesIndex } from "../report/site/values.ts";
import { Progress } from "./base/progress.ts";
import { type NoteReader, shownPath } from "./note-reader.ts";
import { EXIT, type ExitStatus, type Outside } from "./outside.ts";

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

  const { base, failed } = await outside.base().openBase(paths, options.quiet, outside);
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

/** Ctrl-C while pages are written: the work ends at the next page, and what was written goes away. */
class Interruption {
  wanted = false;
  readonly #want = (): void => {
    this.wanted = true;
  };

  constructor() {
    process.on("SIGINT", this.#want);
    process.on("SIGTERM", this.#want);
  }

  end(): void {
    process.off("SIGINT", this.#want);
    process.off("SIGTERM", this.#want);
  }
}

/** After so many pages a signal is let in. */
const BREATH = 25;

class SiteMaker {
  readonly #reader: NoteReader;
  readonly #catalog: Catalog;
  readonly #pictures = new Map<string, string>();
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
    const { entries } = this.#catalog;
    const { progress: line } = this.outside;
    const progress = new Progress("Writing pages", entries.length, this.options.quiet ? undefined : line);
    made.write("site.css", SHEET_STYLE + SITE_STYLE);
    made.write("icon.svg", SITE_ICON);
    made.write("search.js", this.outside.searchScript());
    made.write("search-index.js", searchIndex(entries));
    this.#put(searchPage());
    for (const page of this.#listed()) {
      this.#put(page);
      if (this.#pages % BREATH === 0 && (await letIn(stop))) return false;
    }
    for (const entry of entries) {
      this.#putNote(entry.record.path);
      progress.step();
      if (progress.due) progress.draw();
      if (this.#pages % BREATH === 0 && (await letIn(stop))) {
        progress.done();
        return false;
      }
    }
    progress.done();
    return !(await letIn(stop));
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

  #putNote(shown: string): void {
    const entry = this.#catalog.byPath.get(shown);
    const path = resolve(this.outside.folder, shown);
    const read = this.#reader.note(path);
    if (entry === undefined || read.kind !== "note") return;
    const { analysis, shop, shopPath } = read.note;
    const folder = dirname(path);
    const root = shopPath === undefined ? folder : dirname(shopPath);
    const { procedure } = analysis.note.frontMatter.fields;
    this.#put(
      notePage(this.#catalog, {
        entry,
        analysis,
        procedure: procedure === undefined ? undefined : shop.procedures.get(procedure),
        embed: (target) => this.#picture(target, folder, root, entry.page),
        follow: (target) => this.#follow(target, folder, entry.page),
      }),
    );
  }

  /** A picture is copied under a name made from its content, once however many notes show it. */
  #picture(target: string, folder: string, root: string, from: string): string | undefined {
    const picture = pictureAt(target, folder, root);
    if (picture === undefined) return undefined;
    const hash = createHash("sha256").update(picture.bytes).digest("hex").slice(0, 20);
    const known = this.#pictures.get(hash);
    const page = known ?? `pictures/${hash}${picture.extension}`;
    if (known === undefined) {
      this.#pictures.set(hash, page);
      this.made.write(page, picture.bytes);
    }
    return wayTo(page, from);
  }

  #follow(target: string, folder: string, from: string): string | undefined {
    const file = target.startsWith("/") ? undefined : filePartOf(target);
    if (file === undefined) return undefined;
    const other = this.#catalog.byPath.get(shownPath(resolve(folder, file), this.outside.folder));
    return other && wayTo(other.page, from);
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

async function letIn(stop: Interruption): Promise<boolean> {
  await new Promise((resolve) => setImmediate(resolve));
  return stop.wanted;
}
