import type MarkdownIt from "markdown-it";
import type Token from "markdown-it/lib/token.mjs";
import type { Analysis } from "../analysis/analysis.ts";
import { analyze } from "../check/analyze.ts";
import type { Libraries } from "../host/libraries.ts";
import type { Block } from "../note/note.ts";
import { isJobNote, readNote } from "../note/read-note.ts";
import { blockSheet } from "../report/sheet/block-sheet.ts";
import { sheetHeading } from "../report/sheet/heading.ts";
import { html } from "../report/sheet/html.ts";
import { noShop, readShop } from "../shop/read-shop.ts";
import type { Shop } from "../shop/shop.ts";
import { lineAt } from "../text/line-index.ts";

/** What the editor knows and a preview needs. Asked while the page is being made, so it answers at once. */
export interface PreviewHost {
  /** Whether notes are shown as job sheets at all. */
  enabled(): boolean;
  /** Text of the shop file for a note; undefined where there is none or it is not known yet. */
  shopText(note: unknown): string | undefined;
  /** A fault of ours. The page shows the block as plain markdown then. */
  report(fault: unknown): void;
}

const HEADING = "witness_mark_heading";
const LONGEST = 5 * 1024 * 1024;

/** The checked note behind the tokens of one page; worked out when the first block is drawn. */
type Sheet = (env: unknown) => Checked;
interface Checked {
  readonly analysis: Analysis;
  readonly shop: Shop;
}

/**
 * Shows the blocks of job notes as a job sheet in a markdown-it page. Other fences keep their renderer, other
 * markdown is left alone, and a fault of ours leaves the page as it would be without us: the preview of every
 * markdown file goes through here.
 */
export function extendPreview(md: MarkdownIt, libraries: Libraries, host: PreviewHost): MarkdownIt {
  const sheets = new WeakMap<Token, { readonly sheet: Sheet; readonly block: Block | undefined }>();
  const shops = new Map<string, Shop>();
  let none: Shop | undefined;
  const shopOf = (env: unknown): Shop => {
    const text = host.shopText(env);
    if (text === undefined) {
      none ??= noShop(libraries.procedures());
      return none;
    }
    const known = shops.get(text) ?? readShop(text, libraries.yaml, libraries.procedures());
    shops.clear();
    shops.set(text, known);
    return known;
  };

  md.core.ruler.push("witness-mark", (state) => {
    try {
      if (state.inlineMode || !host.enabled()) return;
      if (!/^\uFEFF?---/.test(state.src) || state.src.length > LONGEST) return;
      const note = readNote(state.src, libraries.yaml);
      if (!isJobNote(note)) return;
      const known = new Map<Shop, Checked>();
      const sheet: Sheet = (env) => {
        const shop = shopOf(env);
        const checked = known.get(shop) ?? { analysis: analyze(note, shop), shop };
        known.set(shop, checked);
        return checked;
      };
      const byLine = new Map(note.blocks.map((block) => [lineAt(note.lines, block.range.from), block]));
      for (const token of state.tokens) {
        const block = token.type === "fence" && token.map ? byLine.get(token.map[0]) : undefined;
        if (!block) continue;
        token.attrJoin("class", "wm-sheet");
        sheets.set(token, { sheet, block });
      }
      const heading = new state.Token(HEADING, "section", 0);
      heading.block = true;
      heading.map = [0, 1];
      sheets.set(heading, { sheet, block: undefined });
      state.tokens.splice(afterFrontMatter(state.tokens), 0, heading);
    } catch (fault) {
      host.report(fault);
    }
  });

  const { rules } = md.renderer;
  const otherFence = rules.fence;
  rules.fence = (tokens, index, options, env, self) => {
    const token = tokens[index];
    const known = token && sheets.get(token);
    if (token && known?.block) {
      try {
        const sheet = blockSheet(known.sheet(env).analysis, known.block);
        return `<div${self.renderAttrs(token)}>${sheet}</div>\n`;
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
    if (!known) return "";
    try {
      const { analysis, shop } = known.sheet(env);
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

function afterFrontMatter(tokens: readonly Token[]): number {
  return tokens[0]?.type === "front_matter" ? 1 : 0;
}
