import { BLOCK_KINDS } from "../../../grammar/line-language.ts";
import { readLimitsLine } from "../language/limits-line.ts";
import { readReadingsLine } from "../language/readings-line.ts";
import { readSeriesLine } from "../language/series-line.ts";
import { readStepsLine } from "../language/steps-line.ts";
import type { SeriesLine } from "../language/syntax.ts";
import { indexLines, lineAt } from "../text/line-index.ts";
import { BlockContent, PlacedBlock } from "./block-content.ts";
import { type Fence, findFences } from "./fences.ts";
import { copyOf, KeptBlock, type LineMemo } from "./line-memo.ts";
import type { AcceptComment, Block, Note } from "./note.ts";
import { findLinks } from "./prose-links.ts";
import { readFrontMatter } from "./read-front-matter.ts";
import type { YamlReader } from "./yaml-tree.ts";

/** Lines longer than this are not read: no technician writes them, and a hostile file may hold one. */
const LONGEST_LINE = 2000;

/** In capitals or with another ending; any other mark is somebody else's. */
const NEARLY_A_KIND = /^(?:readings?|series?|limits?|steps?)(?=[\s:]|$)/i;

/** Reads a whole note. Never fails: what cannot be read is reported on the line where it stands. */
export function readNote(text: string, yaml: YamlReader, memo?: LineMemo): Note {
  memo?.turn();
  const lines = indexLines(text);
  const frontMatter = readFrontMatter(text, yaml);
  const firstLine = frontMatter.present ? lineAt(lines, frontMatter.range.to) + 1 : 0;
  const fences = findFences(text, lines, firstLine, memo?.markdown);
  const blocks: Block[] = [];
  const strays: Note["strays"][number][] = [];
  for (const fence of fences) {
    const block = readBlock(text, fence, memo);
    if (block) blocks.push(block);
    else {
      const [word] = NEARLY_A_KIND.exec(text.slice(fence.infoFrom, fence.infoTo)) ?? [];
      const meant = word && BLOCK_KINDS.find((kind) => kind.startsWith(word.toLowerCase()));
      if (meant) strays.push({ range: { from: fence.infoFrom, to: fence.infoFrom + word.length }, meant });
    }
  }
  const body = lines.starts[firstLine] ?? lines.end;
  return {
    text,
    lines,
    frontMatter,
    blocks,
    links: findLinks(text, body, fences, memo?.markdown),
    accepts: findAccepts(text, body, fences, blocks),
    strays,
  };
}

/** A markdown file is a job note when its front matter has `job`, or names none but the note holds blocks. */
export function isJobNote(note: Note): boolean {
  if (!note.frontMatter.present) return false;
  if (note.frontMatter.at.has("job")) return true;
  if (note.blocks.length > 0 || note.frontMatter.fields.procedure !== undefined) return true;
  // Front matter that cannot be read still says that the file was meant as a note.
  const { range, problems } = note.frontMatter;
  return problems.length > 0 && /^job[ \t]*:/im.test(note.text.slice(range.from, Math.min(range.to, 20_000)));
}

const kinds = new Map<string, Block["kind"]>(BLOCK_KINDS.map((kind) => [kind, kind]));

function readBlock(text: string, fence: Fence, memo: LineMemo | undefined): Block | undefined {
  const info = text.slice(fence.infoFrom, fence.infoTo);
  // Inside quotes and lists the same text may hold other contents, so only blocks at the margin are kept whole.
  const atMargin = fence.from === 0 || "\n\r".includes(text.charAt(fence.from - 1));
  if (memo?.serves !== "one text" || fence.count === 0 || !atMargin)
    return makeBlock(text, fence, info, memo);
  const content = text.slice(fence.contentFrom, fence.contentTo);
  const kept = memo.known(info, content);
  if (kept?.isAt(fence)) {
    memo.keep(kept);
    return kept.block;
  }
  const block = kept
    ? placed(kept.block.kind, kept.block.content, fence, info)
    : makeBlock(text, fence, info, memo);
  if (!block) return undefined;
  const line = fence.firstLine;
  memo.keep(new KeptBlock(kept?.info ?? copyOf(info), kept?.text ?? copyOf(content), block, line));
  return block;
}

function makeBlock(text: string, fence: Fence, info: string, memo: LineMemo | undefined): Block | undefined {
  const space = info.search(/\s/);
  const kind = kinds.get(space < 0 ? info : info.slice(0, space));
  if (!kind) return undefined;
  const make = <L>(read: (text: string) => L): Block => {
    const { lines, contentFrom } = fence;
    const trees = lines.map(({ from, to }) => read(text.slice(from, Math.min(to, from + LONGEST_LINE))));
    const starts = lines.map(({ from }) => from - contentFrom);
    const lengths = lines.map(({ from, to }) => to - from);
    return placed(kind, new BlockContent(trees, starts, lengths), fence, info);
  };
  const known = <L>(read: (text: string) => L) =>
    memo ? (line: string) => memo.line(kind, line, read) : read;
  switch (kind) {
    case "readings":
      return make(known(readReadingsLine));
    case "limits":
      return make(known(readLimitsLine));
    case "steps":
      return make(known(readStepsLine));
    case "series":
      return make(seriesReader(memo));
  }
}

// The kind decides which reader made the trees, which the type cannot follow through the memo.
const placed = (kind: Block["kind"], content: BlockContent<unknown>, fence: Fence, info: string): Block =>
  new PlacedBlock(kind, content, fence, info) as unknown as Block;

/** Reads the lines of one series in order: what a row must hold depends on the header before it. */
function seriesReader(memo: LineMemo | undefined): (line: string) => SeriesLine {
  let columns: number | undefined;
  return (line) => {
    const width = columns;
    const read = (l: string) => readSeriesLine(l, width);
    const syntax = memo ? memo.line(`series${width ?? ""}:`, line, read) : read(line);
    if (syntax.kind === "header") columns = syntax.columns.length;
    return syntax;
  };
}

const ACCEPT = /<!--\s*(accept\b[\s\S]*?)-->/g;

/** `<!-- accept RULE: reason -->` in the prose, each with the block that follows it. */
function findAccepts(
  text: string,
  body: number,
  fences: readonly Fence[],
  blocks: readonly Block[],
): AcceptComment[] {
  if (text.indexOf("<!--", body) < 0) return [];
  const accepts: AcceptComment[] = [];
  ACCEPT.lastIndex = body;
  for (let match = ACCEPT.exec(text); match; match = ACCEPT.exec(text)) {
    const from = match.index;
    const to = from + match[0].length;
    if (fences.some((fence) => from >= fence.from && from < fence.to)) continue;
    const next = blocks.findIndex((block) => block.range.from >= to);
    const between = next < 0 ? "-" : text.slice(to, blocks[next]?.range.from).replace(/<!--[\s\S]*?-->/g, "");
    accepts.push({
      range: { from, to },
      text: match[1]?.trim() ?? "",
      block: between.trim() === "" ? next : undefined,
    });
  }
  return accepts;
}
