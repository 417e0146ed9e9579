import type { FieldProblem, FrontMatter, FrontMatterFields } from "./front-matter.ts";
import { fieldProblems } from "./front-matter-problems.ts";
import { frontMatterSchema } from "./front-matter-schema.ts";
import type { Range } from "./note.ts";
import { readCommonYaml } from "./yaml-fast.ts";
import { quoteFix } from "./yaml-quote-fix.ts";
import type { YamlNode, YamlProblem, YamlReader } from "./yaml-tree.ts";
import { asWritten } from "./yaml-values.ts";

/** Some hundred lines. Beyond it something else has got between the dashes, and reading it could take seconds. */
const MAX_LENGTH = 16_000;

const ABSENT: FrontMatter = {
  range: { from: 0, to: 0 },
  present: false,
  tree: undefined,
  fields: {},
  at: new Map(),
  problems: [],
};

/**
 * Reads the front matter at the start of a note (after a byte order mark): from a line of three dashes to
 * the next one, or to a line of three dots. The same front matter gives the same object, since an editor
 * asks at every keystroke.
 */
export function readFrontMatter(text: string, yaml: YamlReader): FrontMatter {
  const from = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  if (!text.startsWith("---", from)) return ABSENT;
  const opened = OPENING.exec(text.slice(from, from + 100));
  if (!opened) return ABSENT;
  const place = findClosing(text, from, from + opened[0].length);
  if (!place) return ABSENT;
  const key = text.slice(from, place.end);
  return remembered(yaml, from === 0 ? key : `\ufeff${key}`, () => read(text, from, place, yaml));
}

/** A finding for a note that holds blocks and has front matter without `job`. */
export function missingJobProblem(frontMatter: FrontMatter): FieldProblem {
  const { from, to } = frontMatter.range;
  const line = { from, to: Math.min(to, from + 3) };
  return {
    range: line,
    message: "This note has no `job:`, so nothing tells which job it belongs to.",
    advice: "Add `job:` with the job's number as the first line of the front matter.",
    fixes: [],
  };
}

const OPENING = /^---[ \t]*(?:\r?\n|\r|$)/;
const CLOSING = /(?:^|[\r\n])(?:---|\.\.\.)[ \t]*(?=[\r\n]|$)/g;

interface Place {
  /** Between the fences. */
  readonly inner: Range;
  /** End of the closing fence's line, or of the last line that seems to belong to a front matter never closed. */
  readonly end: number;
  readonly closed: boolean;
}

function findClosing(text: string, from: number, start: number): Place | undefined {
  // The search starts at the line break before `start`, so that an empty front matter is one too.
  CLOSING.lastIndex = start - 1;
  const match = /[\r\n]/.test(text.charAt(start - 1)) ? CLOSING.exec(text) : null;
  if (match) {
    const inner = { from: start, to: Math.max(start, match.index + 1) };
    return { inner, end: match.index + match[0].trimEnd().length, closed: true };
  }
  // Three dashes may also be a line drawn across the page. Only keys right below make a front matter of them.
  const lines = /^(?:[A-Za-z#][^\r\n]*|[ \t]+\S[^\r\n]*|- [^\r\n]*)(?:\r?\n|\r|$)/;
  let end = start;
  while (end < text.length && end - from < MAX_LENGTH) {
    const line = lines.exec(text.slice(end, end + 2000));
    if (!line) break;
    end += line[0].length;
  }
  const inner = { from: start, to: end };
  if (!/^job[ \t]*:/m.test(text.slice(start, end))) return undefined;
  const last = text.slice(start, end).trimEnd().length;
  return { inner, end: start + last, closed: false };
}

function read(text: string, from: number, place: Place, yaml: YamlReader): FrontMatter {
  const range = { from, to: place.end };
  const { inner } = place;
  const size = inner.to - inner.from;
  if (size > MAX_LENGTH) return tooLong(text, range, inner);
  // A lone CR ends a line as in the rest of the note; YAML readers see a line break of the same length.
  const innerText = text.slice(inner.from, inner.to).replace(/\r(?!\n)/g, "\n");
  const quick = readCommonYaml(innerText, inner.from);
  const { tree, problems } = quick ? { tree: quick, problems: [] } : yaml(innerText, inner.from);
  const broken = problems.map((problem, i) => withQuoteFix(problem, i, innerText, inner.from, yaml));
  const unclosed = place.closed ? [] : [neverClosed(text, range)];
  if (tree?.kind !== "map") {
    return {
      range,
      present: true,
      tree: undefined,
      fields: {},
      at: new Map(),
      problems: [...unclosed, ...broken],
    };
  }

  const at = new Map<string, Range>();
  placeFields(tree, "", at);
  const result = frontMatterSchema.safeParse(asWritten(tree));
  const issues = result.success ? [] : result.error.issues;
  const endOfLine = innerText.includes("\r\n") ? "\r\n" : "\n";
  const found = fieldProblems(tree, issues, endOfLine);
  // What YAML could make of the lines from its first mistake on is anybody's guess; only what stands before counts.
  const firstBroken = problems[0]?.range.from;
  const lineStart = firstBroken === undefined ? text.length : text.lastIndexOf("\n", firstBroken);
  const kept = found.filter((problem) => problem.range.to <= lineStart);
  const fields = result.success ? result.data : salvage(tree, issues);
  return {
    range,
    present: true,
    tree,
    fields: named(fields),
    at,
    problems: [...unclosed, ...kept, ...broken],
  };
}

function placeFields(node: YamlNode, path: string, at: Map<string, Range>): void {
  if (node.kind !== "map") return;
  for (const { key, value } of node.entries) {
    at.set(path + key, value.range);
    if (value.kind === "map") placeFields(value, `${path}${key}.`, at);
  }
}

type Parsed = NonNullable<ReturnType<typeof frontMatterSchema.safeParse>["data"]>;

/** The fields that are in order, where others are not. */
function salvage(
  tree: YamlNode,
  issues: readonly { path: PropertyKey[]; code?: string; keys?: string[] }[],
): Parsed {
  const bad = new Set<string>();
  for (const issue of issues) {
    if (issue.code === "unrecognized_keys")
      for (const key of issue.keys ?? []) bad.add([...issue.path, key].join("."));
    else
      bad.add(
        issue.path
          .map(String)
          .slice(0, issue.path[0] === "vehicle" ? 2 : 1)
          .join("."),
      );
  }
  const kept = (node: YamlNode, path: string): YamlNode => {
    if (node.kind !== "map") return node;
    const entries = node.entries
      .filter((entry) => !bad.has(path + entry.key))
      .map((entry) => ({ ...entry, value: kept(entry.value, `${path}${entry.key}.`) }));
    return { ...node, entries };
  };
  const again = frontMatterSchema.safeParse(asWritten(kept(tree, "")));
  return again.success ? again.data : {};
}

/**
 * The fields under the names that the rest of the checker uses. The schema library types a key that may be
 * absent as one that may also be undefined; it never makes such a key, hence the cast.
 */
function named(parsed: Parsed): FrontMatterFields {
  if (!("reviewed by" in parsed || "comeback of" in parsed)) return parsed as FrontMatterFields;
  const { "reviewed by": reviewedBy, "comeback of": comebackOf, ...rest } = parsed;
  return {
    ...rest,
    ...(reviewedBy === undefined ? {} : { reviewedBy }),
    ...(comebackOf === undefined ? {} : { comebackOf }),
  } as FrontMatterFields;
}

/** Trying a fix means reading the text again, so it is tried for the first few findings of a text of common size. */
function withQuoteFix(
  problem: YamlProblem,
  index: number,
  text: string,
  offset: number,
  yaml: YamlReader,
): FieldProblem {
  const fix = index < 3 && text.length < 4000 ? quoteFix(problem, text, offset, yaml) : undefined;
  return { ...problem, fixes: fix ? [fix] : [] };
}

function neverClosed(text: string, range: Range): FieldProblem {
  const endOfLine = text.slice(range.from, range.from + 100).includes("\r\n") ? "\r\n" : "\n";
  return {
    range: { from: range.from, to: range.from + 3 },
    message: "The front matter opens with three dashes here and is never closed.",
    advice: "Write a line of three dashes below its last key.",
    fixes: [
      {
        title: "Close it with three dashes",
        range: { from: range.to, to: range.to },
        text: `${endOfLine}---`,
      },
    ],
  };
}

function tooLong(text: string, range: Range, inner: Range): FrontMatter {
  const start = text.slice(inner.from, inner.from + MAX_LENGTH);
  const job = /^job[ \t]*:[ \t]*/m.exec(start);
  const place = job ? inner.from + job.index : 0;
  const problem: FieldProblem = {
    range: { from: range.from, to: range.from + 3 },
    message: `This front matter is ${Math.ceil((inner.to - inner.from) / 1000)} thousand characters long, too long to be read.`,
    advice: "Keep the job's keys here and move everything else below the closing dashes.",
    fixes: [],
  };
  const at = new Map<string, Range>(job ? [["job", { from: place, to: place + job[0].length }]] : []);
  return { range, present: true, tree: undefined, fields: {}, at, problems: [problem] };
}

/** Recent front matters of each reader. Small, since an editor goes back and forth between few notes. */
const memory = new WeakMap<YamlReader, Map<string, FrontMatter>>();
const REMEMBERED = 32;

function remembered(yaml: YamlReader, key: string, make: () => FrontMatter): FrontMatter {
  const recent = memory.get(yaml) ?? new Map<string, FrontMatter>();
  memory.set(yaml, recent);
  const known = recent.get(key);
  if (known) return known;
  const made = make();
  if (key.length > MAX_LENGTH) return made;
  const oldest = recent.size >= REMEMBERED ? recent.keys().next().value : undefined;
  if (oldest !== undefined) recent.delete(oldest);
  recent.set(key, made);
  return made;
}
