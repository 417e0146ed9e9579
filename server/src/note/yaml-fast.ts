import { CONTROL, IN_KEY, kinds, NO_FLOW, NO_START, STARTS_KEY, uncommon } from "./yaml-characters.ts";
import type { YamlEntry, YamlMap, YamlNode, YamlScalar } from "./yaml-tree.ts";

/**
 * A quick reader for the YAML that nearly every note is made of: `key: value` lines, comments, flow maps
 * and lists of plain values on one line, quoted text without escapes, and maps set in by one level.
 *
 * It answers only where the answer is certain to be the full library's, ranges included, and gives
 * undefined for anything else. A property test holds it to that.
 */

const LF = 10;
const CR = 13;
const BLANK = 32;
const HASH = 35;
const COLON = 58;

/** Keys beyond this many are no common form. */
const MAX_ENTRIES = 64;

export function readCommonYaml(text: string, offset: number): YamlMap | undefined {
  return new Lines(text, offset).read();
}

class Lines {
  private at = 0;
  /** Set by `scalar` and `flow` where the value on the line ends, before blanks and comment. */
  private valueEnd = 0;

  constructor(
    private readonly text: string,
    private readonly offset: number,
  ) {}

  read(): YamlMap | undefined {
    const entries: YamlEntry[] = [];
    const { text } = this;
    while (this.at < text.length) {
      const end = this.contentEnd();
      if (end < 0) return undefined;
      const start = this.at;
      if (this.isEmpty(start, end)) {
        this.next(end);
        continue;
      }
      const entry = this.entry(start, end);
      if (!entry || !addEntry(entries, entry)) return undefined;
    }
    return entries.length === 0 ? undefined : mapOf(entries);
  }

  /** `key: value` from `start`, with the lines set in below it; leaves `at` at the next line. */
  private entry(start: number, end: number): YamlEntry | undefined {
    const colon = this.keyEnd(start, end);
    if (colon < 0) return undefined;
    const key = this.text.slice(start, colon);
    const keyRange = { from: this.offset + start, to: this.offset + colon };
    const from = this.skipBlanks(colon + 1, end);
    this.next(end);
    if (this.endsLine(colon + 1, end)) {
      const nested = this.nested();
      if (nested === undefined) return undefined;
      const empty = { from: keyRange.to, to: keyRange.to };
      return { key, keyRange, value: nested ?? { kind: "scalar", range: empty, value: null, source: "" } };
    }
    const value = this.value(from, end);
    if (!value || !this.endsLine(this.valueEnd, end) || this.continues()) return undefined;
    return { key, keyRange, value };
  }

  /** Entries set in below a key without a value: null where there are none, undefined where it is not certain. */
  private nested(): YamlMap | null | undefined {
    const entries: YamlEntry[] = [];
    let indent = -1;
    while (this.at < this.text.length) {
      const end = this.contentEnd();
      if (end < 0) return undefined;
      const start = this.skipBlanks(this.at, end);
      // Comments and empty lines in between are rare enough to leave to the library.
      if (start === end || this.text.charCodeAt(start) === HASH) {
        if (start === this.at && indent < 0) return null;
        return undefined;
      }
      const depth = start - this.at;
      if (depth === 0) break;
      if (indent >= 0 && depth !== indent) return undefined;
      indent = depth;
      const colon = this.keyEnd(start, end);
      if (colon < 0) return undefined;
      const from = this.skipBlanks(colon + 1, end);
      if (from === end) return undefined;
      const value = this.value(from, end);
      if (!value || !this.endsLine(this.valueEnd, end)) return undefined;
      const keyRange = { from: this.offset + start, to: this.offset + colon };
      if (!addEntry(entries, { key: this.text.slice(start, colon), keyRange, value })) return undefined;
      this.next(end);
    }
    return entries.length === 0 ? null : mapOf(entries);
  }

  private value(from: number, end: number): YamlNode | undefined {
    switch (this.text.charCodeAt(from)) {
      case 123: // {
        return this.flowMap(from, end);
      case 91: // [
        return this.flowList(from, end);
      case 34: // "
      case 39: // '
        return this.quoted(from, end);
      default:
        return this.plain(from, end);
    }
  }

  private plain(from: number, end: number): YamlScalar | undefined {
    const { text } = this;
    let last = from;
    for (let i = from; i < end; i++) {
      const code = text.charCodeAt(i);
      if (code === BLANK) continue;
      if (code >= 128 ? uncommon(code) : ((kinds[code] ?? 0) & CONTROL) !== 0) return undefined;
      if (code === HASH && i > 0 && text.charCodeAt(i - 1) === BLANK) break;
      if (code === COLON && (i + 1 === end || text.charCodeAt(i + 1) === BLANK)) return undefined;
      last = i + 1;
    }
    return this.resolved(from, last);
  }

  /** A plain value with the type that the YAML 1.2 core schema gives it. */
  private resolved(from: number, to: number): YamlScalar | undefined {
    const first = this.text.charCodeAt(from);
    if (from === to || (first < 128 && ((kinds[first] ?? 0) & NO_START) !== 0)) return undefined;
    this.valueEnd = to;
    const source = this.text.slice(from, to);
    const range = { from: this.offset + from, to: this.offset + to };
    if (first >= 48 && first <= 57) {
      const value = numberOf(source);
      return value === undefined ? undefined : { kind: "scalar", range, value, source };
    }
    const word = to - from <= 5 ? WORDS.get(source) : undefined;
    if (word !== undefined) return { kind: "scalar", range, value: word, source };
    return { kind: "scalar", range, value: source, source };
  }

  private quoted(from: number, end: number): YamlScalar | undefined {
    const { text } = this;
    const quote = text.charCodeAt(from);
    for (let i = from + 1; i < end; i++) {
      const code = text.charCodeAt(i);
      if (code === quote) {
        if (text.charCodeAt(i + 1) === quote) return undefined;
        this.valueEnd = i + 1;
        const value = text.slice(from + 1, i);
        const range = { from: this.offset + from, to: this.offset + i + 1 };
        const inner = { from: range.from + 1, to: range.to - 1 };
        return { kind: "scalar", range, value, source: value, inner };
      }
      if (code === 92 || (code >= 128 ? uncommon(code) : ((kinds[code] ?? 0) & CONTROL) !== 0))
        return undefined;
    }
    return undefined;
  }

  private flowMap(from: number, end: number): YamlMap | undefined {
    const entries: YamlEntry[] = [];
    let i = from + 1;
    for (;;) {
      const start = this.skipBlanks(i, end);
      const colon = this.keyEnd(start, end);
      if (colon < 0) return undefined;
      const value = this.flowScalar(this.skipBlanks(colon + 1, end), end);
      if (!value) return undefined;
      const keyRange = { from: this.offset + start, to: this.offset + colon };
      if (!addEntry(entries, { key: this.text.slice(start, colon), keyRange, value })) return undefined;
      i = this.skipBlanks(this.valueEnd, end) + 1;
      const after = this.text.charAt(i - 1);
      if (after === "}" && i <= end) break;
      if (after !== ",") return undefined;
    }
    this.valueEnd = i;
    return { kind: "map", range: { from: this.offset + from, to: this.offset + i }, entries };
  }

  private flowList(from: number, end: number): YamlNode | undefined {
    const items: YamlNode[] = [];
    let i = from + 1;
    for (;;) {
      const item = this.flowScalar(this.skipBlanks(i, end), end);
      if (!item) return undefined;
      items.push(item);
      i = this.skipBlanks(this.valueEnd, end) + 1;
      const after = this.text.charAt(i - 1);
      if (after === "]" && i <= end) break;
      if (after !== ",") return undefined;
    }
    this.valueEnd = i;
    return { kind: "list", range: { from: this.offset + from, to: this.offset + i }, items };
  }

  private flowScalar(from: number, end: number): YamlScalar | undefined {
    const { text } = this;
    let last = from;
    for (let i = from; i < end; i++) {
      const code = text.charCodeAt(i);
      if (code === BLANK) continue;
      if (code >= 128) {
        if (uncommon(code)) return undefined;
      } else {
        const kind = kinds[code] ?? 0;
        if ((kind & CONTROL) !== 0) return undefined;
        if ((kind & NO_FLOW) !== 0) break;
      }
      last = i + 1;
    }
    return this.resolved(from, last);
  }

  /** Place of the colon that ends a plain key, with a blank or the line's end after it; -1 where it is not certain. */
  private keyEnd(start: number, end: number): number {
    const { text } = this;
    if (((kinds[text.charCodeAt(start)] ?? 0) & STARTS_KEY) === 0) return -1;
    for (let i = start + 1; i < end && i < start + 100; i++) {
      const code = text.charCodeAt(i);
      if (code === COLON) {
        const closed = i + 1 === end || text.charCodeAt(i + 1) === BLANK;
        return closed && text.charCodeAt(i - 1) !== BLANK ? i : -1;
      }
      if (((kinds[code] ?? 0) & IN_KEY) === 0) return -1;
    }
    return -1;
  }

  /** End of the line's content; -1 for a carriage return on its own. */
  private contentEnd(): number {
    const feed = this.text.indexOf("\n", this.at);
    const end = feed < 0 ? this.text.length : feed;
    return feed > this.at && this.text.charCodeAt(feed - 1) === CR ? end - 1 : end;
  }

  private next(end: number): void {
    let at = end;
    if (this.text.charCodeAt(at) === CR) at++;
    if (this.text.charCodeAt(at) === LF) at++;
    this.at = at;
  }

  private skipBlanks(from: number, end: number): number {
    let i = from;
    while (i < end && this.text.charCodeAt(i) === BLANK) i++;
    return i;
  }

  /** An empty line or a comment in the first column; a comment of odd characters is left to the library. */
  private isEmpty(start: number, end: number): boolean {
    if (start === end) return true;
    return this.text.charCodeAt(start) === HASH && this.commonUntil(start, end);
  }

  private endsLine(from: number, end: number): boolean {
    const rest = this.skipBlanks(from, end);
    return (
      rest === end || (rest > from && this.text.charCodeAt(rest) === HASH && this.commonUntil(rest, end))
    );
  }

  private commonUntil(from: number, end: number): boolean {
    for (let i = from; i < end; i++) {
      const code = this.text.charCodeAt(i);
      if (code >= 128 ? uncommon(code) : ((kinds[code] ?? 0) & CONTROL) !== 0) return false;
    }
    return true;
  }

  /** Whether the next line is set in, and so might go on with the value before it. */
  private continues(): boolean {
    const code = this.text.charCodeAt(this.at);
    return code === BLANK || code === 9;
  }
}

/** Words that YAML takes for something other than text. */
const WORDS: ReadonlyMap<string, boolean | null> = new Map<string, boolean | null>([
  ...["null", "Null", "NULL"].map((word) => [word, null] as const),
  ...["true", "True", "TRUE"].map((word) => [word, true] as const),
  ...["false", "False", "FALSE"].map((word) => [word, false] as const),
]);

/** A whole or decimal number of a common length; the text itself where it is no number; undefined where it is uncertain. */
function numberOf(source: string): number | string | undefined {
  if (/^\d+$/.test(source)) return source.length <= 15 ? Number(source) : undefined;
  if (/^\d+\.\d+$/.test(source)) return source.length <= 15 ? Number(source) : undefined;
  // Octal, hexadecimal and powers of ten.
  return /^(?:0[ox]|[\d.]+(?:[eE]|\.?$))/.test(source) ? undefined : source;
}

/** False where the key is there already, or the map grows beyond the common. */
function addEntry(entries: YamlEntry[], entry: YamlEntry): boolean {
  for (const other of entries) if (other.key === entry.key) return false;
  return entries.push(entry) <= MAX_ENTRIES;
}

function mapOf(entries: readonly YamlEntry[]): YamlMap {
  const from = entries[0]?.keyRange.from ?? 0;
  const last = entries.at(-1);
  return {
    kind: "map",
    range: { from, to: last ? Math.max(last.keyRange.to, last.value.range.to) : from },
    entries,
  };
}
