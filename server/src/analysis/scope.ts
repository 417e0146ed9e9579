import type { Expression, Name, ReadingsLine, SeriesHeader } from "../language/syntax.ts";
import type { Block, Note, Placed, ReadingsBlock, SeriesBlock } from "../note/note.ts";
import { ByPlace } from "./by-place.ts";

/** One name that the note defines. */
export interface Definition {
  /** Lower case, with the label of its block before it: the name in the one space of the note. */
  readonly key: string;
  /** The same as written. */
  readonly name: string;
  readonly block: Block;
  readonly body:
    | {
        readonly kind: "line";
        readonly placed: Placed<ReadingsLine>;
        readonly syntax: Exclude<ReadingsLine, { kind: "empty" }>;
      }
    | {
        readonly kind: "column";
        readonly placed: Placed<SeriesHeader>;
        readonly column: number;
        /** The name as the header has it, without the block's label. */
        readonly text: string;
        /** Whether another column's name differs in case alone. */
        readonly hasTwin: boolean;
      };
  /** Where the name stands on its line. */
  readonly nameSpan: Name["span"];
}

export interface Scope {
  /** First definition of each name, in the order of the note. */
  readonly byKey: ReadonlyMap<string, Definition>;
  /** The place of each key among them. */
  readonly places: ReadonlyMap<string, number>;
  /** Columns of one series whose names differ in case alone, by the name in lower case. */
  readonly twins: ReadonlyMap<string, readonly Definition[]>;
  /** Later definitions of a name that was there already, each with the first. */
  readonly repeated: readonly { readonly again: Definition; readonly first: Definition }[];
  readonly all: readonly Definition[];
}

/** The name in the note's one space: a label puts its names under itself. */
export const keyUnder = (label: string, key: string): string =>
  label ? `${label.toLowerCase()} ${key}` : key;

/** The keys of the last look at a note, where each stood for one definition and none had a twin. */
export class NamesMemo {
  keys: readonly string[] | undefined;
  places: ReadonlyMap<string, number> = new Map();
}

const NO_TWINS: Scope["twins"] = new Map();

export function collectNames(note: Note, memo?: NamesMemo): Scope {
  const all: Definition[] = [];
  for (const block of note.blocks) for (const definition of definitionsIn(block)) all.push(definition);
  const { keys } = memo ?? {};
  if (memo && keys && keys.length === all.length && all.every(({ key }, i) => keys[i] === key)) {
    const { places } = memo;
    return { byKey: new ByPlace(places, all), places, twins: NO_TWINS, repeated: [], all };
  }
  const scope = scopeOf(all);
  if (memo) {
    const plain = scope.repeated.length === 0 && scope.twins.size === 0;
    memo.keys = plain ? all.map(({ key }) => key) : undefined;
    memo.places = scope.places;
  }
  return scope;
}

function scopeOf(all: readonly Definition[]): Scope {
  const places = new Map<string, number>();
  const firsts: Definition[] = [];
  const twins = new Map<string, Definition[]>();
  const repeated: { again: Definition; first: Definition }[] = [];
  for (const definition of all) {
    const { key, body } = definition;
    const first = firsts[places.get(key) ?? -1];
    if (first) {
      repeated.push({ again: definition, first });
      continue;
    }
    places.set(key, firsts.length);
    firsts.push(definition);
    if (body.kind !== "column" || !body.hasTwin) continue;
    const written = key.toLowerCase();
    const others = twins.get(written);
    if (others) others.push(definition);
    else twins.set(written, [definition]);
  }
  return { byKey: new ByPlace(places, firsts), places, twins, repeated, all };
}

const NO_DEFINITIONS: readonly Definition[] = [];
const definedIn = new WeakMap<Block, readonly Definition[]>();

/** What a block defines. Kept with the block, which stays the same object while an edit leaves it in place. */
function definitionsIn(block: Block): readonly Definition[] {
  if (block.kind !== "readings" && block.kind !== "series") return NO_DEFINITIONS;
  const known = definedIn.get(block);
  if (known) return known;
  const made = block.kind === "series" ? columnsOf(block) : namesOf(block);
  definedIn.set(block, made);
  return made;
}

function namesOf(block: ReadingsBlock): readonly Definition[] {
  return namedUnder(block).map((line) => new LineDefinition(block, line));
}

/** A line of a block that defines a name, with the name that the block's label makes of it. */
interface NamedLine {
  readonly index: number;
  readonly syntax: Exclude<ReadingsLine, { kind: "empty" }>;
  readonly nameSpan: Name["span"];
  readonly key: string;
  readonly name: string;
}

/** The lines of a block that define a name. Kept with the block's content, by label. */
function namedUnder({ content, label }: ReadingsBlock): readonly NamedLine[] {
  const byLabel = content.once(noLabelsYet);
  const known = byLabel.get(label);
  if (known) return known;
  const made: NamedLine[] = [];
  for (const [index, syntax] of content.trees.entries()) {
    if (syntax.kind === "empty" || !("name" in syntax) || !syntax.name) continue;
    const { key, text, span } = syntax.name;
    const name = label ? `${label} ${text}` : text;
    made.push({ index, syntax, nameSpan: span, key: keyUnder(label, key), name });
  }
  byLabel.set(label, made);
  return made;
}

const noLabelsYet = (): Map<string, readonly NamedLine[]> => new Map();

/** A line that defines a name. Where it stands is told only when somebody asks. */
class LineDefinition implements Definition {
  readonly key: string;
  readonly name: string;
  readonly body: Definition["body"];
  readonly nameSpan: Name["span"];

  constructor(
    readonly block: ReadingsBlock,
    { key, name, nameSpan, index, syntax }: NamedLine,
  ) {
    this.key = key;
    this.name = name;
    this.nameSpan = nameSpan;
    this.body = new LineBody(block, index, syntax);
  }
}

class LineBody {
  readonly kind = "line";

  constructor(
    private readonly block: ReadingsBlock,
    private readonly index: number,
    readonly syntax: NamedLine["syntax"],
  ) {}

  get placed(): Placed<ReadingsLine> {
    // The number came from the lines of this block.
    return this.block.lines[this.index] as Placed<ReadingsLine>;
  }
}

function columnsOf(block: SeriesBlock): Definition[] {
  const line = block.content.trees.findIndex(({ kind }) => kind === "header");
  const header = block.content.trees[line];
  if (header?.kind !== "header") return [];
  const names = header.columns.map((column) => column.name);
  return names.map((name, index) => {
    const hasTwin = names.some(({ key, text }) => key === name.key && text !== name.text);
    return {
      key: keyUnder(block.label, hasTwin ? keyAmongTwins(name, names) : name.key),
      name: block.label ? `${block.label} ${name.text}` : name.text,
      block,
      body: new ColumnBody(block, line, index, name.text, hasTwin),
      nameSpan: name.span,
    };
  });
}

/**
 * Time `t` beside temperature `T` is how logs are headed; there alone case tells names apart. The name in lower
 * case goes to the column that is written so, else to the first.
 */
function keyAmongTwins(name: Name, names: readonly Name[]): string {
  const alike = names.filter(({ key }) => key === name.key);
  const plain = alike.find(({ key, text }) => text === key) ?? alike[0];
  return plain?.text === name.text ? name.key : name.text;
}

class ColumnBody {
  readonly kind = "column";

  constructor(
    private readonly block: SeriesBlock,
    private readonly line: number,
    readonly column: number,
    readonly text: string,
    readonly hasTwin: boolean,
  ) {}

  get placed(): Placed<SeriesHeader> {
    // The number is that of the block's header.
    return this.block.lines[this.line] as Placed<SeriesHeader>;
  }
}

/** The definition that a name means inside a block: its own label's first. */
export function resolve(
  scope: Scope,
  label: string,
  name: Pick<Name, "key" | "text">,
): Definition | undefined {
  return (
    (label ? definedAs(scope, keyUnder(label, name.key), name.text) : undefined) ??
    definedAs(scope, name.key, name.text)
  );
}

/** The definition with this key; of twins the one that is written as `text` ends. */
function definedAs({ byKey, twins }: Scope, key: string, text: string): Definition | undefined {
  const alike = twins.size > 0 ? twins.get(key) : undefined;
  const exact = alike?.find(({ body }) => body.kind === "column" && text.endsWith(body.text));
  return exact ?? byKey.get(key);
}

const namesByTree = new WeakMap<Expression, readonly Name[]>();

/** Names that a formula uses, in order; the function names are not among them. */
export function namesIn(expression: Expression): readonly Name[] {
  const known = namesByTree.get(expression);
  if (known) return known;
  const names: Name[] = [];
  const visit = (node: Expression): void => {
    switch (node.kind) {
      case "name":
        names.push(node.name);
        break;
      case "binary":
        visit(node.left);
        visit(node.right);
        break;
      case "negate":
      case "not":
        visit(node.operand);
        break;
      case "is":
        visit(node.subject);
        break;
      case "call":
        for (const argument of node.args) visit(argument.value);
        break;
      default:
        break;
    }
  };
  visit(expression);
  namesByTree.set(expression, names);
  return names;
}
