import { isAlias, isPair, isScalar, isSeq, type ParsedNode, parseAllDocuments, type YAMLError } from "yaml";
import type { Range } from "./note.ts";
import { sayYamlError } from "./yaml-messages.ts";
import type { YamlEntry, YamlNode, YamlProblem, YamlReader } from "./yaml-tree.ts";

/**
 * The full YAML reader, exact in its ranges. It is a bundle of its own and loaded only when the quick
 * reader (`yaml-fast.ts`) declines a text, since the library costs start-up time.
 *
 * A job note and a shop file need plain keys, values and lists. YAML's way of writing a thing once and
 * meaning it elsewhere (`&`, `*`, `<<`) and its type marks (`!`) are reported and never expanded, so that
 * a few lines cannot blow up into millions.
 */

/** A shop file of a thousand instruments fits; far beyond it, reading would hold up the editor. */
const MAX_LENGTH = 250_000;
/** The deepest file of ours, a procedure, needs nine. */
const MAX_DEPTH = 24;
const MAX_PROBLEMS = 20;

export const readYaml: YamlReader = (text, offset) => {
  if (text.length > MAX_LENGTH) {
    const range = { from: offset, to: offset + text.indexOf("\n") + 1 || offset };
    const message = `This is longer than the ${MAX_LENGTH / 1000} thousand characters that are read here.`;
    return {
      tree: undefined,
      problems: [{ range, message, advice: "Keep logs and tables in files of their own." }],
    };
  }
  const control = firstControl(text);
  if (control >= 0) {
    const from = offset + control;
    const message = "A character here is not text, as if a picture or another kind of file had got in.";
    const advice = "Delete the character, or save the file as plain UTF-8 text.";
    return { tree: undefined, problems: [{ range: { from, to: from + 1 }, message, advice }] };
  }
  return new Conversion(text, offset).read();
};

/** Place of the first control character other than tab and line breaks; -1 where there is none. */
function firstControl(text: string): number {
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if ((c < 32 && c !== 9 && c !== 10 && c !== 13) || c === 127) return i;
  }
  return -1;
}

class Conversion {
  private readonly problems: YamlProblem[] = [];
  /** A quote or bracket without its partner: a clearer finding than what the library says about the end. */
  private unclosed = false;

  constructor(
    private readonly text: string,
    private readonly offset: number,
  ) {}

  read(): { tree: YamlNode | undefined; problems: readonly YamlProblem[] } {
    const documents = parseAllDocuments(this.text, {
      schema: "core",
      // The library compares every key with every other; ours are looked up in a set.
      uniqueKeys: false,
      merge: false,
      resolveKnownTags: false,
      prettyErrors: false,
      logLevel: "silent",
    });
    const first = documents[0];
    const errors: YAMLError[] =
      "empty" in documents ? [...documents.errors] : documents.flatMap((d) => d.errors);
    let tree: YamlNode | undefined;
    if (first?.contents) tree = this.node(first.contents, 0);
    for (const error of errors) {
      if (error.code === "TAG_RESOLVE_FAILED") this.refuse(error.pos[0], error.pos[1]);
    }
    const error = this.unclosed ? undefined : errors.find((e) => e.code !== "TAG_RESOLVE_FAILED");
    if (error) {
      // What follows a mistake in YAML is mostly its echo, so only the first is told.
      const said = sayYamlError(this.text, error.code, error.message, error.pos[0], error.pos[1]);
      this.add(said.range.from, said.range.to, said.message, said.advice);
    } else if (documents[1]) {
      const from = documents[1].range[0];
      const advice = "Put everything into one part, without a line of three dashes or dots between.";
      this.add(from, this.lineEnd(from), "A second part starts here; only the first is read.", advice);
    }
    if (this.problems.length === 0) this.checkTop(tree);
    return { tree: tree?.kind === "map" ? tree : undefined, problems: this.onePerLine() };
  }

  /** The whole must be keys with values, or empty. */
  private checkTop(tree: YamlNode | undefined): void {
    if (tree?.kind === "map") return;
    const content = /^(?![ \t]*(?:#|\r?$)).+/m.exec(this.text);
    const from = tree ? tree.range.from - this.offset : (content?.index ?? -1);
    if (from < 0 || (tree?.kind === "scalar" && tree.range.from === tree.range.to)) return;
    const message =
      tree?.kind === "list"
        ? "This is a list, with no keys."
        : "This is text, with no key and colon before it.";
    const advice = "Write one `key: value` to a line, with a blank after the colon.";
    this.add(from, this.lineEnd(from), message, advice);
  }

  /** Two findings on one line of YAML are nearly always one mistake. */
  private onePerLine(): YamlProblem[] {
    const kept: YamlProblem[] = [];
    let until = -1;
    for (const problem of this.problems.sort((a, b) => a.range.from - b.range.from)) {
      const from = problem.range.from - this.offset;
      if (from <= until) continue;
      until = this.lineEnd(from);
      kept.push(problem);
      if (kept.length === MAX_PROBLEMS) break;
    }
    return kept;
  }

  private node(node: ParsedNode, depth: number): YamlNode {
    const [start, valueEnd] = node.range;
    const range = this.range(start, valueEnd);
    if (depth > MAX_DEPTH) {
      if (depth === MAX_DEPTH + 1) {
        const advice = "Flatten it: a few levels are enough for anything read here.";
        this.add(start, start + 1, `This is nested more than ${MAX_DEPTH} levels deep.`, advice);
      }
      return { kind: "scalar", range, value: null, source: "" };
    }
    if (isAlias(node)) {
      this.refuse(start, valueEnd);
      const source = this.text.slice(start, valueEnd);
      return { kind: "scalar", range, value: source, source };
    }
    if (node.anchor !== undefined) this.refuseBefore(start, "&");
    if (node.tag !== undefined) this.refuseBefore(start, "!");
    if (isScalar(node)) {
      const end = this.trimmed(start, valueEnd);
      const written = this.text.slice(start, end);
      const quote = node.type === "QUOTE_DOUBLE" ? '"' : node.type === "QUOTE_SINGLE" ? "'" : undefined;
      if (quote && (written.length < 2 || !written.endsWith(quote))) {
        this.partner(start, `A quote mark (${quote}) opens here and is never closed.`);
      }
      const { value } = node;
      const plain =
        typeof value === "number" || typeof value === "boolean" || value === null ? value : String(value);
      const onOneLine = node.type === "PLAIN" && !/[\r\n]/.test(written);
      const source = onOneLine ? written : typeof value === "string" ? value : (node.source ?? written);
      // Without escapes and folds the letters between the quotes are those of the value.
      const plainlyQuoted = quote !== undefined && source === written.slice(1, -1);
      const inner = plainlyQuoted ? { inner: this.range(start + 1, end - 1) } : {};
      return { kind: "scalar", range: this.range(start, end), value: plain, source, ...inner };
    }
    const opening = this.text[start];
    if (node.flow && (opening === "{" || opening === "[")) {
      const closing = opening === "{" ? "}" : "]";
      if (this.text[valueEnd - 1] !== closing || valueEnd - start < 2) {
        this.partner(start, `A bracket (${opening}) opens here and is never closed.`);
      }
    }
    if (isSeq(node)) {
      const items = node.items.flatMap((item) =>
        isPair(item) ? [] : [this.node(item as ParsedNode, depth + 1)],
      );
      const last = items.at(-1)?.range.to;
      return { kind: "list", range: node.flow || !last ? range : { from: range.from, to: last }, items };
    }
    return this.map(
      node.items as readonly { key: ParsedNode | null; value: ParsedNode | null }[],
      range,
      Boolean(node.flow),
      depth,
    );
  }

  private map(
    pairs: readonly { key: ParsedNode | null; value: ParsedNode | null }[],
    range: Range,
    flow: boolean,
    depth: number,
  ): YamlNode {
    const entries: YamlEntry[] = [];
    const seen = new Set<string>();
    for (const { key, value } of pairs) {
      if (!isScalar(key)) {
        if (key) this.refuse(key.range[0], key.range[1]);
        continue;
      }
      const keyNode = this.node(key, depth + 1);
      if (keyNode.kind !== "scalar") continue;
      const name = keyNode.source;
      const keyRange = keyNode.range;
      if (name === "" || keyRange.from === keyRange.to) {
        this.add(
          key.range[0],
          key.range[0] + 1,
          "No key stands before this colon.",
          "Write the key before it.",
        );
        continue;
      }
      if (name === "<<") {
        this.refuse(key.range[0], key.range[1]);
        continue;
      }
      if (seen.has(name)) {
        const advice = "Keep one of the two lines; it is not clear which was meant.";
        this.add(key.range[0], key.range[1], `\`${name}\` is given twice.`, advice);
        continue;
      }
      seen.add(name);
      entries.push({ key: name, keyRange, value: this.value(value, keyRange, depth) });
    }
    const first = entries[0];
    const last = entries.at(-1);
    const tight =
      flow || !first || !last
        ? range
        : { from: first.keyRange.from, to: Math.max(last.keyRange.to, last.value.range.to) };
    return { kind: "map", range: tight, entries };
  }

  /** A key without a value has an empty one, which stands right after the key. */
  private value(value: ParsedNode | null, keyRange: Range, depth: number): YamlNode {
    const read = value ? this.node(value, depth + 1) : undefined;
    const absent = !read || (read.kind === "scalar" && read.range.from === read.range.to);
    if (!absent) return read;
    return { kind: "scalar", range: { from: keyRange.to, to: keyRange.to }, value: null, source: "" };
  }

  private partner(start: number, message: string): void {
    if (this.unclosed) return;
    this.unclosed = true;
    this.add(
      start,
      this.lineEnd(start),
      message,
      "Close it, or put the whole value in quotes if the mark is part of the text.",
    );
  }

  /** Refuses the last mark of this kind before a value. */
  private refuseBefore(start: number, mark: string): void {
    let from = this.text.lastIndexOf(mark, start);
    if (from < 0) return;
    while (this.text[from - 1] === mark) from--;
    const blank = /\s/.exec(this.text.slice(from, from + 100));
    this.refuse(from, blank ? from + blank.index : start);
  }

  private refuse(from: number, to: number): void {
    const written = this.text.slice(from, Math.min(to, from + 20)).replace(/\s+/g, " ");
    const message = `\`${written}${to > from + 20 ? "…" : ""}\` has a special meaning in YAML, which is not used here.`;
    const advice =
      "If it is part of the text, put the whole value in quotes; else write the value out in full.";
    this.add(from, to, message, advice);
  }

  private add(from: number, to: number, message: string, advice: string): void {
    if (this.problems.length >= 10 * MAX_PROBLEMS) return;
    this.problems.push({
      range: this.range(from, Math.max(from, Math.min(to, this.text.length))),
      message,
      advice,
    });
  }

  private range(from: number, to: number): Range {
    return { from: from + this.offset, to: to + this.offset };
  }

  /** Without the line breaks that the library counts to a text over several lines. */
  private trimmed(start: number, end: number): number {
    let to = end;
    while (to > start && /[ \t\r\n]/.test(this.text.charAt(to - 1))) to--;
    return to;
  }

  private lineEnd(from: number): number {
    const rest = /\r?\n/.exec(this.text.slice(from, from + 10_000));
    return rest ? from + rest.index : Math.min(this.text.length, from + 10_000);
  }
}
