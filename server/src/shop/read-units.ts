import * as z from "zod/mini";
import { readFraction } from "../language/scanner.ts";
import type { Range } from "../note/note.ts";
import type { YamlEntry, YamlNode } from "../note/yaml-tree.ts";
import { PRESSURE, TEMPERATURE } from "../units/dimension.ts";
import { OwnUnits } from "../units/own-units.ts";
import type { Unit } from "../units/unit.ts";
import { PLAIN_NUMBER } from "../units/unit-choice.ts";
import type { UnitEntry } from "../units/unit-entry.ts";
import type { UnitSource } from "../units/unit-product.ts";
import { readUnitFrom } from "../units/unit-reader.ts";
import { fold, lookUp } from "../units/unit-table.ts";
import { type Piece, part, pieceOf, type Report, readNumber } from "./piece.ts";
import { checkForm, textAt, textsAt } from "./section.ts";
import { isFreeUnitName } from "./unit-name.ts";

const text = z.string().check(z.minLength(1));
const unitSchema = z.strictObject({
  equals: text,
  also: z.optional(z.union([text, z.array(text)])),
  says: z.optional(text),
  source: z.optional(text),
});

/** More than any shop has; keeps a file that somebody's program wrote from taking all day. */
const MOST_UNITS = 200;

/** The shop's own units, and where each of their spellings is defined. */
export interface UnitsRead {
  readonly units: OwnUnits | undefined;
  readonly places: ReadonlyMap<string, Range>;
}

/** A unit that is being read. Others may rest on it, in whatever order they stand. */
interface Draft {
  readonly name: string;
  readonly aliases: readonly string[];
  readonly equals: Piece | undefined;
  readonly says: string | undefined;
  readonly source: string | undefined;
  readonly at: Range;
  state: "new" | "open" | "done";
  entry: UnitEntry | undefined;
}

/** Reads the section `units`; what cannot be read is reported and left out. */
export function readUnits(entries: readonly YamlEntry[], report: Report): UnitsRead {
  const drafts: Draft[] = [];
  const refused = new Set<string>();
  const bySpelling = new Map<string, Draft>();
  const tooMany = entries[MOST_UNITS];
  if (tooMany) {
    const advice = `Keep the units that notes use; more than ${MOST_UNITS} are not read.`;
    report(tooMany.keyRange, "From here on there are more units than are read.", advice);
  }
  for (const entry of entries.slice(0, MOST_UNITS)) {
    const draft = readDraft(entry, bySpelling, report);
    if (draft) drafts.push(draft);
    else refused.add(fold(entry.key.trim()));
  }
  const resolver = new Resolver(bySpelling, refused, report);
  for (const draft of drafts) resolver.resolve(draft);
  const good = drafts.flatMap(({ entry }) => entry ?? []);
  const broken = new Set([...bySpelling].filter(([, { entry }]) => !entry).map(([spelling]) => spelling));
  return {
    units: good.length + broken.size > 0 ? new OwnUnits(good, broken) : undefined,
    places: new Map([...bySpelling].map(([spelling, { at }]) => [spelling, at])),
  };
}

function readDraft(entry: YamlEntry, taken: Map<string, Draft>, report: Report): Draft | undefined {
  const name = entry.key.trim();
  if (!isFreeUnitName({ text: name, range: entry.keyRange }, taken, report)) return undefined;
  const form = formOf(entry.value, `the unit \`${name}\``, entry.keyRange, report);
  const draft: Draft = {
    name,
    aliases: [],
    at: { from: entry.keyRange.from, to: Math.max(entry.keyRange.to, entry.value.range.to) },
    state: "new",
    entry: undefined,
    ...form,
  };
  taken.set(fold(name), draft);
  const aliases: string[] = [];
  for (const alias of form.also) {
    if (!isFreeUnitName(alias, taken, report)) continue;
    aliases.push(alias.text);
    taken.set(fold(alias.text), draft);
  }
  return Object.assign(draft, { aliases });
}

type Form = Pick<Draft, "equals" | "says" | "source"> & { readonly also: readonly Piece[] };

/** `can: 20 L`, or a map with more about it. */
function formOf(value: YamlNode, what: string, at: Range, report: Report): Form {
  const bare = { says: undefined, source: undefined, also: [] };
  if (value.kind === "scalar" && value.value !== null) {
    return { ...bare, equals: pieceOf(value) };
  }
  if (value.kind === "scalar") {
    report(at, `Nothing says what ${what} equals.`, "Write a number and a known unit behind it: 20 L.");
    return { ...bare, equals: undefined };
  }
  const map = checkForm(value, unitSchema, what, at, report);
  if (!map) return { ...bare, equals: undefined };
  return {
    equals: textAt(map, "equals"),
    says: textAt(map, "says")?.text,
    source: textAt(map, "source")?.text,
    also: textsAt(map, "also"),
  };
}

// ---- What they equal ------------------------------------------------------------------------------

class Resolver {
  /** Units being resolved, each needed by the one before it. */
  readonly #open: Draft[] = [];
  readonly #source: UnitSource;

  constructor(
    private readonly drafts: ReadonlyMap<string, Draft>,
    /** Names that have a finding already. */
    private readonly refused: ReadonlySet<string>,
    private readonly report: Report,
  ) {
    this.#source = {
      find: (folded) => {
        const known = lookUp(folded);
        if (known) return known;
        const draft = drafts.get(folded);
        const entry = draft && this.resolve(draft);
        return entry && { entry, prefix: 1 };
      },
      also: [...drafts.values()].map(({ name }) => name),
    };
  }

  resolve(draft: Draft): UnitEntry | undefined {
    if (draft.state === "open") return this.#circle(draft);
    if (draft.state === "new") {
      draft.state = "open";
      this.#open.push(draft);
      const entry = draft.equals && this.#entry(draft, draft.equals);
      this.#open.pop();
      // A unit of a circle was marked as done when the circle was found, and stays unread.
      if (this.#isOpen(draft)) draft.entry = entry;
      draft.state = "done";
    }
    return draft.entry;
  }

  #isOpen = (draft: Draft): boolean => draft.state === "open";

  /** Each circle is told once, where it closes, and none of its units counts. */
  #circle(draft: Draft): undefined {
    const circle = this.#open.slice(this.#open.indexOf(draft));
    const names = [...circle, draft].map(({ name }) => `\`${name}\``).join(" → ");
    const first = circle.reduce((a, b) => (b.at.from < a.at.from ? b : a));
    this.report(
      first.equals?.range ?? first.at,
      circle.length === 1
        ? `\`${draft.name}\` is said to be so many of itself.`
        : `These units rest on each other in a circle: ${names}.`,
      "Let one of them equal a unit that everybody knows, such as L, kg or min.",
    );
    for (const one of circle) one.state = "done";
    return undefined;
  }

  #entry(draft: Draft, equals: Piece): UnitEntry | undefined {
    const read = this.#quantity(draft, equals);
    if (!read) return undefined;
    const { unit, number } = read;
    const factor = number * unit.factor;
    if (!(factor > 0) || !Number.isFinite(factor)) {
      this.report(equals.range, "A unit has to be more than nothing.", "Write how much one of it is: 20 L.");
      return undefined;
    }
    if (unit.scale === "point") {
      const advice = `Write the size of its step, as in \`2 K\` or \`2 delta ${unit.spelling}\`.`;
      this.report(equals.range, `${unit.spelling} is a point on a scale and no size.`, advice);
      return undefined;
    }
    if (unit.scale === "absolute") {
      const advice = `Write it bare here, and \`${draft.name}(a)\` in notes where absolute pressure is meant.`;
      this.report(equals.range, "The size of a unit is neither gauge nor absolute.", advice);
      return undefined;
    }
    const nature =
      unit.dimension === PRESSURE ? "pressure" : unit.dimension === TEMPERATURE ? "difference" : undefined;
    const about = draft.says ? `: ${draft.says}` : "";
    return {
      symbol: draft.name,
      ...(draft.aliases.length > 0 ? { aliases: draft.aliases } : {}),
      name: draft.says ?? draft.name,
      dimension: unit.dimension,
      factor,
      ...(nature ? { nature } : {}),
      source: draft.source ?? "the shop file",
      remark: `One \`${draft.name}\` is ${equals.text} by the shop file${about}.`,
    };
  }

  #quantity(draft: Draft, equals: Piece): { number: number; unit: Unit } | undefined {
    const tolerance = equals.text.search(/±|\+\/-/);
    if (tolerance >= 0) {
      const advice =
        "Write the size alone. Where it is not sure, say so at each reading, as in `2 can ± 0.1 can`.";
      this.report(part(equals, tolerance).range, "A unit is exact; it takes no `±`.", advice);
      return undefined;
    }
    const fraction = readFraction(equals.text, 0);
    const read = fraction
      ? { number: fraction.value, rest: part(equals, fraction.span.to) }
      : readNumber(equals, this.report);
    if (!read) return undefined;
    const { number, rest } = read;
    // A number alone makes a unit that counts, as a dozen does.
    if (rest.text === "") return { number, unit: PLAIN_NUMBER };
    const unit = readUnitFrom(this.#source, rest.text);
    if (unit.ok) return { number, unit: unit.unit };
    const bad = rest.text.slice(unit.from, unit.to);
    // One mistake, one finding: the other unit has its own, and so has a circle.
    const told = this.drafts.has(fold(bad)) || this.refused.has(fold(bad));
    if (told || draft.state === "done") return undefined;
    const [near] = unit.nearest;
    const advice = near
      ? `Perhaps \`${near}\` is meant.`
      : "Write a unit that notes know, or another one of this file.";
    this.report(
      rest.range,
      `\`${rest.text}\` is no known unit.`,
      unit.remark ? `${advice} ${unit.remark}` : advice,
    );
    return undefined;
  }
}
