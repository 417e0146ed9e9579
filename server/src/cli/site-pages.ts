import { createHash } from "node:crypto";
import { dirname, resolve } from "node:path";
import { FolderFiles } from "../host/new-folder.ts";
import { pictureAt } from "../host/picture.ts";
import { filePartOf } from "../note/prose-links.ts";
import { layout } from "../report/site/layout.ts";
import { type NotePagePlan, notePage } from "../report/site/note-page.ts";
import { wayTo } from "../report/site/site-map.ts";
import { type NoteReader, shownPath } from "./note-reader.ts";
import type { NoteWorker } from "./shared-work.ts";

/** What all notes' pages take from the site as a whole. Plain data, since other threads are handed it. */
export interface SitePlan {
  /** The folder that pages are written to. */
  readonly into: string;
  readonly title: string;
  /** By the path of the note as shown. */
  readonly notes: ReadonlyMap<string, NotePagePlan>;
  /** Pages of the rules by name. */
  readonly rules: ReadonlyMap<string, string>;
}

/**
 * Writes the pages of notes, one after the other, and the pictures that they show. What the disk refuses is
 * thrown: there is no site then.
 */
export class SitePages implements NoteWorker<true> {
  readonly #files: FolderFiles;
  readonly #pictures = new Map<string, string>();

  constructor(
    private readonly plan: SitePlan,
    private readonly folder: string,
    private readonly reader: NoteReader,
  ) {
    this.#files = new FolderFiles(plan.into);
  }

  note(path: string): true {
    const plan = this.plan.notes.get(shownPath(path, this.folder));
    const read = this.reader.note(path);
    if (plan === undefined || read.kind !== "note") return true;
    const { analysis, shop, shopPath } = read.note;
    const folder = dirname(path);
    const root = shopPath === undefined ? folder : dirname(shopPath);
    const { procedure } = analysis.note.frontMatter.fields;
    const page = notePage({
      plan,
      rules: this.plan.rules,
      analysis,
      procedure: procedure === undefined ? undefined : shop.procedures.get(procedure),
      embed: (target) => this.#picture(target, folder, root, plan.page),
      follow: (target) => this.#follow(target, folder, plan.page),
    });
    this.#files.write(plan.page, layout(this.plan.title, page));
    return true;
  }

  /**
   * A picture is copied under a name made from its content, once however many notes show it; by each thread
   * that comes upon it, since another may break off in the middle of it.
   */
  #picture(target: string, folder: string, root: string, from: string): string | undefined {
    const picture = pictureAt(target, folder, root);
    if (picture === undefined) return undefined;
    const hash = createHash("sha256").update(picture.bytes).digest("hex").slice(0, 20);
    const known = this.#pictures.get(hash);
    const page = known ?? `pictures/${hash}${picture.extension}`;
    if (known === undefined) {
      this.#pictures.set(hash, page);
      this.#files.write(page, picture.bytes);
    }
    return wayTo(page, from);
  }

  #follow(target: string, folder: string, from: string): string | undefined {
    const file = target.startsWith("/") ? undefined : filePartOf(target);
    if (file === undefined) return undefined;
    const other = this.plan.notes.get(shownPath(resolve(folder, file), this.folder));
    return other && wayTo(other.page, from);
  }
}
