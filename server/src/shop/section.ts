import type { Range } from "../note/note.ts";
import type { YamlEntry, YamlMap, YamlNode } from "../note/yaml-tree.ts";
import { asWritten, keyRangeAt, nodeAt } from "../note/yaml-values.ts";
import { nearest } from "../text/nearest.ts";
import { type Piece, part, pieceOf, type Report } from "./piece.ts";

interface Issue {
  readonly code?: string | undefined;
  readonly path: PropertyKey[];
  readonly keys?: string[] | undefined;
}

/** As much of a schema as is needed here; every object schema of the schema library is one. */
interface ObjectSchema {
  readonly shape: object;
  safeParse(value: unknown): { success: true } | { success: false; error: { issues: readonly Issue[] } };
}

/**
 * Holds one map of the shop file against its schema and reports what is off.
 *
 * @param what the map in words, such as "the instrument `P1`"
 * @param at where a key that is missing is reported
 * @returns the map, or undefined where the node is none
 */
export function checkForm(
  node: YamlNode,
  schema: ObjectSchema,
  what: string,
  at: Range,
  report: Report,
): YamlMap | undefined {
  if (node.kind !== "map") {
    report(
      node.range,
      `Keys and values are needed here for ${what}.`,
      "Write each as `key: value` on a line set in below it.",
    );
    return undefined;
  }
  const result = schema.safeParse(asWritten(node));
  const known = Object.keys(schema.shape);
  for (const issue of result.success ? [] : result.error.issues) {
    if (issue.code === "unrecognized_keys") {
      for (const key of issue.keys ?? []) {
        if (key.startsWith("x-")) continue;
        const range = keyRangeAt(node, [...issue.path, key]);
        const [near] = issue.path.length === 0 ? nearest(key, known, 1) : [];
        const message = `\`${key}\` is no key for ${what}, so nothing reads it.`;
        const keys = issue.path.length === 0 ? ` Known are ${known.join(", ")}.` : "";
        report(range, message, near ? `Perhaps \`${near}\` is meant.` : `Remove it.${keys}`);
      }
      continue;
    }
    const key = issue.path.map(String).join(", ");
    const value = nodeAt(node, issue.path);
    if (value === undefined || (value.kind === "scalar" && value.value === null)) {
      report(
        issue.path.length === 1 && value === undefined ? at : keyRangeAt(node, issue.path),
        `\`${key}\` is missing for ${what}.`,
        `Add \`${String(issue.path.at(-1))}:\`.`,
        { within: node.range },
      );
    } else {
      report(
        value.range,
        `\`${key}\` cannot be read like this for ${what}.`,
        "Write it as one plain value on its line.",
      );
    }
  }
  return node;
}

/** Value of a key; an empty one counts as absent. */
export function valueAt(map: YamlMap, key: string): YamlNode | undefined {
  const value = map.entries.find((entry) => entry.key === key)?.value;
  return value?.kind === "scalar" && value.value === null ? undefined : value;
}

export const textAt = (map: YamlMap, key: string): Piece | undefined => pieceOf(valueAt(map, key));

/** The texts of a list, or the one text that stands for a list of one; `a, b` counts as two. */
export function textsAt(map: YamlMap, key: string, divided = true): readonly Piece[] {
  const value = valueAt(map, key);
  if (value?.kind === "list") return value.items.flatMap((item) => pieceOf(item) ?? []);
  const piece = pieceOf(value);
  if (!piece || !divided) return piece ? [piece] : [];
  const pieces: Piece[] = [];
  for (const match of piece.text.matchAll(/[^,]+/g)) {
    const one = part(piece, match.index, match.index + match[0].length);
    if (one.text !== "") pieces.push(one);
  }
  return pieces;
}

/** `{ key: text }` for spreading into a result whose key may be absent. */
export function optionalText<K extends string>(map: YamlMap, key: K): { [P in K]?: string } {
  const piece = textAt(map, key);
  const made: { [P in K]?: string } = {};
  if (piece) made[key] = piece.text;
  return made;
}

export const entryRange = (entry: YamlEntry): Range => ({
  from: entry.keyRange.from,
  to: Math.max(entry.keyRange.to, entry.value.range.to),
});
