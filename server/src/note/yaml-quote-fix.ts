import type { FieldProblem } from "./front-matter.ts";
import type { YamlProblem, YamlReader } from "./yaml-tree.ts";

/** A key in front, then its value up to a comment or the line's end. */
const KEY_AND_VALUE = /^([A-Za-z][^:\n]*:[ \t]+)([^\s"'{].*?)[ \t]*(?:[ \t]#[^\n]*)?\r?$/;

/**
 * Quotes round the value of the line with the problem, offered only where reading the text again shows that
 * they mend it. Most mistakes in a front matter are marks of ordinary prose, such as a colon or brackets.
 */
export function quoteFix(
  problem: YamlProblem,
  text: string,
  offset: number,
  yaml: YamlReader,
): FieldProblem["fixes"][number] | undefined {
  const at = problem.range.from - offset;
  const start = text.lastIndexOf("\n", Math.max(0, at - 1)) + 1;
  const feed = text.indexOf("\n", start);
  const line = text.slice(start, feed < 0 ? text.length : feed);
  const parts = line.length < 2000 ? KEY_AND_VALUE.exec(line) : null;
  const [, key = "", value = ""] = parts ?? [];
  if (!parts || value === "") return undefined;
  const from = start + key.length;
  const quoted = `'${value.replaceAll("'", "''")}'`;
  const mended = yaml(text.slice(0, from) + quoted + text.slice(from + value.length), offset);
  if (mended.problems.some((p) => p.range.from - offset <= from + quoted.length)) return undefined;
  return {
    title: "Put the value in quotes",
    range: { from: offset + from, to: offset + from + value.length },
    text: quoted,
  };
}
