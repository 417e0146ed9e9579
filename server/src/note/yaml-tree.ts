import type { Range } from "./note.ts";

/** A piece of YAML with its ranges in the surrounding text, whatever reader made it. */
export type YamlNode = YamlMap | YamlList | YamlScalar;

export interface YamlMap {
  readonly kind: "map";
  readonly range: Range;
  readonly entries: readonly YamlEntry[];
}

export interface YamlEntry {
  readonly key: string;
  readonly keyRange: Range;
  readonly value: YamlNode;
}

export interface YamlList {
  readonly kind: "list";
  readonly range: Range;
  readonly items: readonly YamlNode[];
}

export interface YamlScalar {
  readonly kind: "scalar";
  readonly range: Range;
  /** As the YAML 1.2 core schema resolves it. */
  readonly value: string | number | boolean | null;
  /** As written, for values such as `2031-0042` or `007` whose digits matter. */
  readonly source: string;
  /** Of a value in quotes: where `source` stands between them, letter for letter. */
  readonly inner?: Range;
}

/** Something wrong with the YAML itself, in a technician's words. */
export interface YamlProblem {
  readonly range: Range;
  readonly message: string;
  readonly advice: string;
}

export interface YamlReading {
  readonly tree: YamlNode | undefined;
  readonly problems: readonly YamlProblem[];
}

/**
 * Reads a whole YAML text; ranges are shifted by `offset`. Handed in by the adaptors, so that the full YAML
 * library is loaded only when a text needs it.
 */
export type YamlReader = (text: string, offset: number) => YamlReading;
