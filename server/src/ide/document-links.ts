import { acceptsOf } from "../analysis/accepting.ts";
import type { Note, Range } from "../note/note.ts";
import { filePartOf } from "../note/prose-links.ts";
import type { YamlNode } from "../note/yaml-tree.ts";
import { at } from "./mentions.ts";

export type LinkTarget =
  /** A file beside the note, with forward slashes. */
  | { readonly kind: "file"; readonly path: string }
  | { readonly kind: "address"; readonly href: string }
  /** The page of a rule. */
  | { readonly kind: "rule"; readonly rule: string };

export interface DocumentLink {
  readonly range: Range;
  readonly target: LinkTarget;
  readonly says: string;
  /** How the target is written there: as a link of the prose, as a value of the front matter, or as it is. */
  readonly form: "prose" | "yaml" | "plain";
}

/** What a note leads to: photos, logs of series, links of the prose, and the pages of rules that it accepts. */
export function documentLinks(note: Note): readonly DocumentLink[] {
  const links: DocumentLink[] = [];
  const add = (
    form: DocumentLink["form"],
    range: Range,
    target: LinkTarget | undefined,
    says: string,
  ): void => {
    if (target) links.push({ range, target, says, form });
  };
  for (const { range, text } of frontMatterTexts(note, "photos"))
    add("yaml", range, targetOf(text), "Show the photo");
  for (const { range, text } of frontMatterTexts(note, "source")) {
    if (/^https?:\/\/\S+$/i.test(text))
      add("yaml", range, { kind: "address", href: text }, "Open the source");
  }
  for (const block of note.blocks) {
    if (block.kind !== "series") continue;
    for (const { syntax, offset } of block.lines) {
      if (syntax.kind !== "option" || syntax.key.key !== "from") continue;
      add("plain", at(offset, syntax.value.span), targetOf(syntax.value.text), "Open the log");
    }
  }
  for (const { range, target, picture } of note.links) {
    add("prose", range, targetOf(target), picture ? "Show the picture" : "Open");
  }
  for (const { rule, range } of acceptsOf(note)) {
    const from = rule === "" ? -1 : note.text.toLowerCase().indexOf(rule, range.from);
    if (from >= range.from && from < range.to) {
      add("plain", { from, to: from + rule.length }, { kind: "rule", rule }, "Show what the rule says");
    }
  }
  return links.sort((a, b) => a.range.from - b.range.from);
}

function targetOf(written: string): LinkTarget | undefined {
  if (/^(?:https?|mailto):/i.test(written)) return { kind: "address", href: written };
  const path = filePartOf(written);
  return path === undefined ? undefined : { kind: "file", path };
}

/** The texts of a field that holds one or a list. */
function* frontMatterTexts(note: Note, key: string): Generator<{ range: Range; text: string }> {
  const { tree } = note.frontMatter;
  if (tree?.kind !== "map") return;
  const value = tree.entries.find((entry) => entry.key === key)?.value;
  const nodes: readonly YamlNode[] = value?.kind === "list" ? value.items : value ? [value] : [];
  for (const node of nodes) {
    if (node.kind === "scalar" && typeof node.value === "string")
      yield { range: node.range, text: node.value };
  }
}
