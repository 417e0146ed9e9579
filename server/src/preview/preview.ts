import type MarkdownIt from "markdown-it";
import type { RenderRule } from "markdown-it/lib/renderer.mjs";
import type Token from "markdown-it/lib/token.mjs";
import type { Surroundings } from "../check/analyze.ts";
import type { OpenShop } from "../lsp/open-shops.ts";
import type { Block, Note } from "../note/note.ts";
import { isJobNote } from "../note/read-note.ts";
import type { YamlReader } from "../note/yaml-tree.ts";
import { blockSheet } from "../report/sheet/block-sheet.ts";
import { sheetHeading } from "../report/sheet/heading.ts";
import { html } from "../report/sheet/html.ts";
import type { Shop } from "../shop/shop.ts";
import { lineAt } from "../text/line-index.ts";
import { CheckedNotes, type CheckedSheet } from "./checked-notes.ts";

/** What the editor knows and a preview needs. Asked while the page is being made, so it answers at once. */
export interface PreviewHost {
  /** Whether notes are shown as job sheets at all. */
  enabled(): boolean;
  /** Address of the note that a page shows, from what the editor hands to its renderers. */
  noteUri(env: unknown): string | undefined;
  /** Shop files as they stand in the editor, saved or not; they go before those on the disk. */
  openShops(): readonly OpenShop[];
  /** Text of a note's shop file, for notes that are on no disk; undefined where none is known. */
  shopText(uri: string): string | undefined;
  /** A fault of ours. The page shows the block as plain markdown then. */
  report(fault: unknown): void;
}

/** What stands round a note; the same as the checker's own. */
export interface PreviewFiles {
  shop(uri: string | undefined): Shop;
  surroundings(uri: string | undefined, note: Note): Surroundings;
}

const HEADING = "witness_mark_heading";
/** How the built-in preview calls the front matter; other pages with markdown-it have none. */
const FRONT_MATTER = "front_matter";
const LONGEST = 5 * 1024 * 1024;

/**
 * Shows the blocks of job notes as a job sheet in a markdown-it page. Other fences keep their renderer, other
 * markdown is left alone, and a fault of ours leaves the page as it would be without us: the preview of every
 * markdown file goes through here.
 */
export function extendPreview(
  md: MarkdownIt,
  yaml: YamlReader,
  files: PreviewFiles,
  host: PreviewHost,
): MarkdownIt {
  const sheets = new WeakMap<Token, { readonly note: Note; readonly block: Block | undefined }>();
  const checkedNotes = new CheckedNotes(yaml, files);
  const sheetOf = (note: Note, env: unknown): CheckedSheet =>
    checkedNotes.check(note, env, () => host.noteUri(env));

  md.core.ruler.push("witness-mark", (state) => {
    try {
      if (state.inlineMode) return;
      if (!/^\uFEFF?---/.test(state.src) || state.src.length > LONGEST) return;
      const note = checkedNotes.read(state.src);
      if (!isJobNote(note)) return;
      const byLine = new Map(note.blocks.map((block) => [lineAt(note.lines, block.range.from), block]));
      for (const token of state.tokens) {
        const block = token.type === "fence" && token.map ? byLine.get(token.map[0]) : undefined;
        if (block) sheets.set(token, { note, block });
      }
      const heading = new state.Token(HEADING, "section", 0);
      heading.block = true;
      heading.map = [0, 1];
      sheets.set(heading, { note, block: undefined });
      const first = state.tokens[0];
      const frontMatter = first?.type === FRONT_MATTER ? first : undefined;
      if (frontMatter) {
        sheets.set(frontMatter, { note, block: undefined });
        hideFrontMatter();
      }
      state.tokens.splice(frontMatter ? 1 : 0, 0, heading);
    } catch (fault) {
      host.report(fault);
    }
  });

  const { rules } = md.renderer;
  let hiding: RenderRule | undefined;
  /** The heading says it all, so the editor's own table of it is left out. Its rule may come after ours. */
  const hideFrontMatter = (): void => {
    const shown = rules[FRONT_MATTER];
    if (!shown || shown === hiding) return;
    hiding = (tokens, index, options, env, self) => {
      const token = tokens[index];
      return token && sheets.has(token) && host.enabled() ? "" : shown(tokens, index, options, env, self);
    };
    rules[FRONT_MATTER] = hiding;
  };
  const otherFence = rules.fence;
  rules.fence = (tokens, index, options, env, self) => {
    const token = tokens[index];
    const known = token && sheets.get(token);
    if (token && known?.block && host.enabled()) {
      try {
        const sheet = blockSheet(sheetOf(known.note, env).analysis, known.block);
        // The outer one carries what the editor keeps the page and the text in step by.
        return `<div${self.renderAttrs(token)}><div class="wm-sheet">${sheet}</div></div>\n`;
      } catch (fault) {
        host.report(fault);
      }
    }
    return otherFence
      ? otherFence(tokens, index, options, env, self)
      : self.renderToken(tokens, index, options);
  };
  rules[HEADING] = (tokens, index, _options, env) => {
    const token = tokens[index];
    const known = token && sheets.get(token);
    if (!known || !host.enabled()) return "";
    try {
      const { analysis, shop } = sheetOf(known.note, env);
      const id = analysis.note.frontMatter.fields.procedure;
      const procedure = id === undefined ? undefined : shop.procedures.get(id);
      return `${html`<div class="wm-sheet">${sheetHeading(analysis, procedure)}</div>`}\n`;
    } catch (fault) {
      host.report(fault);
      return "";
    }
  };
  return md;
}
