import type { Range } from "./note.ts";
import type { YamlNode } from "./yaml-tree.ts";

/** A YAML tree as plain values for a schema to look at. */
export type PlainValue =
  | string
  | number
  | boolean
  | null
  | undefined
  | readonly PlainValue[]
  | { readonly [key: string]: PlainValue };

/** As written: every scalar is its text, so that `007` keeps its noughts. Empty values are left out. */
export function asWritten(node: YamlNode): PlainValue {
  return plain(node, (scalar) => (scalar.value === null ? undefined : scalar.source));
}

/** As the YAML core schema has it: `true` is a truth and `3` a number. */
export function asResolved(node: YamlNode): PlainValue {
  return plain(node, (scalar) => scalar.value);
}

function plain(node: YamlNode, scalar: (s: Extract<YamlNode, { kind: "scalar" }>) => PlainValue): PlainValue {
  if (node.kind === "scalar") return scalar(node);
  if (node.kind === "list") return node.items.map((item) => plain(item, scalar));
  const object: Record<string, PlainValue> = {};
  for (const { key, value } of node.entries) {
    // The one key that would not become a key of the object but change what it is.
    if (key === "__proto__") continue;
    const made = plain(value, scalar);
    if (made !== undefined) object[key] = made;
  }
  return object;
}

/** The node at a path of keys and list indexes, or undefined. */
export function nodeAt(node: YamlNode | undefined, path: readonly PropertyKey[]): YamlNode | undefined {
  let here = node;
  for (const step of path) {
    if (here?.kind === "map") here = here.entries.find((e) => e.key === step)?.value;
    else if (here?.kind === "list" && typeof step === "number") here = here.items[step];
    else return undefined;
  }
  return here;
}

/** Where the last key of a path stands; the nearest thing above it that exists, when the path leads nowhere. */
export function keyRangeAt(tree: YamlNode, path: readonly PropertyKey[]): Range {
  for (let length = path.length; length > 0; length--) {
    const parent = nodeAt(tree, path.slice(0, length - 1));
    const last = path[length - 1];
    if (parent?.kind === "map") {
      const entry = parent.entries.find((e) => e.key === last);
      if (entry) return entry.keyRange;
    }
    if (parent?.kind === "list" && typeof last === "number" && parent.items[last])
      return parent.items[last].range;
  }
  return tree.range;
}
