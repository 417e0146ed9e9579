import { columnFor } from "../../base/logger-table.ts";
import { skipBlanks } from "../../language/scanner.ts";
import type { SeriesBlock } from "../../note/note.ts";
import { SEPARATORS } from "../../note/series-log.ts";
import { type Completion, type LinePlace, typedFrom } from "./place.ts";
import { SERIES_OPTIONS } from "./series-options.ts";
import { unitCompletions } from "./units.ts";

const OPTION = /^[ \t]*(from|skip|separator|decimal|columns)[ \t]*:[ \t]*/i;
const FIRST_WORD = /^[ \t]*(\p{L}*)$/u;

/** Options about a log, the names and units of columns; nothing among the rows. */
export function completeSeries(place: LinePlace): Completion[] {
  if (place.line.kind !== "series") return [];
  const { before, line, start } = place;
  const series = new Series(place, line.block);
  const option = OPTION.exec(before);
  if (option) return completeOption(place, series, (option[1] ?? "").toLowerCase(), option[0].length);

  const word = FIRST_WORD.exec(before);
  const options =
    word && (!series.hasHeaderAbove || series.log !== undefined || word[1] !== "")
      ? optionCompletions(place, series, before.length - (word[1] ?? "").length)
      : [];
  const isHeader = line.placed.syntax.kind === "header" || !series.hasHeader;
  if (!isHeader || (series.hasHeader && series.headerAt !== start)) return options;
  const open = before.lastIndexOf("[");
  if (open > before.lastIndexOf(",") && before.indexOf("]", open) < 0)
    return unitCompletions(typedFrom(place, skipBlanks(before, open + 1)), undefined, place.shop.units);
  return [...columnCompletions(place, series), ...options];
}

/** What the other lines of the block say. */
class Series {
  readonly given = new Map<string, string>();
  readonly headerAt: number | undefined;
  readonly hasHeaderAbove: boolean;

  constructor(
    private readonly place: LinePlace,
    block: SeriesBlock,
  ) {
    let headerAt: number | undefined;
    for (const { syntax, offset } of block.lines) {
      if (syntax.kind === "header") headerAt ??= offset;
      if (syntax.kind === "option" && offset !== place.start)
        this.given.set(syntax.key.key, syntax.value.text);
    }
    this.headerAt = headerAt;
    this.hasHeaderAbove = headerAt !== undefined && headerAt < place.start;
  }

  get hasHeader(): boolean {
    return this.headerAt !== undefined;
  }

  get log(): string | undefined {
    return this.given.get("from");
  }

  /** How the file heads its columns; empty where that cannot be seen, or its first line holds numbers. */
  heads(): readonly string[] {
    const path = this.log;
    if (path === undefined || path === "") return [];
    const word = (this.given.get("separator") ?? "").toLowerCase();
    const separator = (Object.hasOwn(SEPARATORS, word) ? SEPARATORS[word] : undefined) ?? ",";
    const skip = Number(/^\d{1,4}/.exec(this.given.get("skip") ?? "")?.[0] ?? 0);
    return this.place.logs.heads({ path, separator, skip });
  }
}

function optionCompletions(place: LinePlace, { given }: Series, column: number): Completion[] {
  const replaces = typedFrom(place, column);
  return SERIES_OPTIONS.filter(({ name }) => !given.has(name)).map(({ name, detail }) => ({
    label: `${name}:`,
    kind: "option",
    text: `${name}: `,
    replaces,
    detail,
    about: name,
  }));
}

function completeOption(place: LinePlace, series: Series, name: string, column: number): Completion[] {
  if (name === "from") {
    const replaces = typedFrom(place, column);
    return place.logs.beside().map((path) => ({ label: path, kind: "file", text: path, replaces }));
  }
  if (name === "columns") return fileColumns(place, series, column);
  const option = SERIES_OPTIONS.find((one) => one.name === name);
  const replaces = typedFrom(place, column);
  return (option?.words ?? []).map(([word, detail]) => ({
    label: word,
    kind: "word",
    text: word,
    replaces,
    detail,
  }));
}

const SPLIT = /,(?=(?:[^"]*"[^"]*")*[^"]*$)/;
const isNumber = (cell: string): boolean => /^[+-]?[\d.,]+(?:e[+-]?\d+)?$/i.test(cell);

/** Columns of the file that are not named yet, by heading, or by number where there is none. */
function fileColumns(place: LinePlace, series: Series, from: number): Completion[] {
  const named = place.before.slice(from).split(SPLIT);
  const typed = named.pop() ?? "";
  const taken = new Set(
    named.map((name) =>
      name
        .trim()
        .replace(/^"(.*)"$/, "$1")
        .toLowerCase(),
    ),
  );
  const replaces = typedFrom(place, place.before.length - typed.trimStart().length);
  const heads = series.heads();
  const headed = !heads.every(isNumber);
  return heads.flatMap((head, i): Completion[] => {
    const number = String(i + 1);
    const byName = headed && head !== "" && !/["#]/.test(head);
    const label = byName ? head : number;
    if (taken.has(label.toLowerCase()) || taken.has(number)) return [];
    const text = byName && head.includes(",") ? `"${head}"` : label;
    return [{ label, kind: "word", text, replaces, detail: byName ? `column ${number}` : head }];
  });
}

/** Names for the column at the cursor: of the log's own, else those of the note's other series. */
function columnCompletions(place: LinePlace, series: Series): Completion[] {
  const { before } = place;
  const cells = before.split(",");
  const typed = (cells.pop() ?? "").trimStart();
  // Behind a name comes its unit, and that is offered in its bracket.
  if (/[\]\d.]/.test(typed)) return [];
  const replaces = typedFrom(place, before.length - typed.length);
  const taken = new Set(cells.map(nameOf));
  const column = (text: string, detail: string): Completion[] =>
    taken.has(nameOf(text)) ? [] : [{ label: text, kind: "reading", text, replaces, detail }];
  if (series.log !== undefined) {
    const columns = loggedColumns(series);
    const next = columns[cells.length];
    const all = columns.filter((one) => one !== undefined);
    const whole = all.join(", ");
    return [
      ...(cells.length === 0 && all.length > 1
        ? [
            {
              label: whole,
              kind: "reading" as const,
              text: whole,
              replaces,
              detail: "all columns of the log",
            },
          ]
        : []),
      ...(next === undefined ? [] : column(next, "the log's next column")),
    ];
  }
  const others = new Set<string>();
  for (const block of place.analysis.note.blocks) {
    if (block.kind !== "series" || block === place.line.block) continue;
    for (const { syntax } of block.lines)
      if (syntax.kind === "header")
        for (const { name, unit } of syntax.columns)
          others.add(unit ? `${name.text} [${unit.text}]` : name.text);
  }
  return [
    ...[...others].flatMap((text) => column(text, "as in another series of this note")),
    ...(cells.length === 0 && !others.has("t [s]") ? column("t [s]", "time since the start") : []),
  ];
}

/** Case tells names of one series apart, as time `t` and temperature `T` do. */
const nameOf = (column: string): string => (column.split("[")[0] ?? "").trim();

/** Columns for the header in the order in which the rows will be read; undefined for a heading that gives no name. */
function loggedColumns(series: Series): readonly (string | undefined)[] {
  const heads = series.heads();
  const picked = (series.given.get("columns") ?? "")
    .split(SPLIT)
    .map((name) => name.trim().replace(/^"(.*)"$/, "$1"))
    .filter((name) => name !== "");
  const chosen =
    picked.length === 0
      ? heads
      : picked.map((name) => (/^[1-9]\d{0,3}$/.test(name) ? (heads[Number(name) - 1] ?? "") : name));
  return chosen.map((head) => (isNumber(head) ? undefined : columnFor(head)));
}
