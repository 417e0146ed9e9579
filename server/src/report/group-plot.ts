import { extent } from "d3-array";
import { scaleLinear, scaleUtc } from "d3-scale";
import { symbol, symbolsStroke } from "d3-shape";
import { type Html, html, minus } from "./sheet/html.ts";

/** Points of one group. */
export interface Dots {
  readonly name: string;
  readonly points: readonly {
    readonly x: number;
    readonly y: number;
    /** Half of the bar that is drawn through it. */
    readonly uncertainty?: number | undefined;
  }[];
}

/** What the plot goes over: another value, days (`x` in milliseconds), or the groups side by side. */
export type Across =
  | { readonly kind: "values"; readonly name: string; readonly unit: string }
  | { readonly kind: "days"; readonly marks?: readonly DayMark[] }
  | { readonly kind: "groups"; readonly name: string };

/** A day that is marked across the plot, such as that of a calibration. */
export interface DayMark {
  /** Milliseconds, at the start of the day (UTC). */
  readonly x: number;
  readonly who: string;
  readonly did: string;
}

const WIDTH = 760;
const HEIGHT = 400;
const LEFT = 72;
const RIGHT = 20;
const TOP = 34;
const BOTTOM = 52;
const LEGEND_ROW = 20;

/**
 * Values of several groups as a static SVG file of its own. Groups are told apart by the shape of their marks
 * and by a legend, never by colour alone. Undefined where there is no point.
 */
export function groupPlot(
  groups: readonly Dots[],
  across: Across,
  y: { readonly name: string; readonly unit: string },
): string | undefined {
  const all = groups.flatMap(({ points }) => points);
  const [low, high] = extent(
    all.flatMap((point) => [point.y - (point.uncertainty ?? 0), point.y + (point.uncertainty ?? 0)]),
  );
  if (low === undefined || high === undefined) return undefined;
  const bottom = HEIGHT - BOTTOM;
  const up = scaleLinear(room(low, high), [bottom, TOP]).nice(6);
  const { place, ticks } = scaleAcross(groups, across);
  const legend = across.kind !== "groups" && groups.length > 1;
  const label = (name: string, unit: string): string => (unit === "" ? name : `${name} [${unit}]`);
  const name = label(y.name, y.unit);
  const over =
    across.kind === "days"
      ? "date"
      : across.kind === "groups"
        ? across.name
        : label(across.name, across.unit);
  const says = over === "" ? name : `${name} over ${over}`;
  const formatY = up.tickFormat(6);
  const within = (across.kind === "days" ? (across.marks ?? []) : []).filter(({ x }) => {
    const at = place(x, 0, 0, 1);
    return at >= LEFT && at <= WIDTH - RIGHT;
  });
  const said = saidOf(within);
  const legendRows = legend ? groups.length : 0;
  const height = HEIGHT + (legendRows + said.length) * LEGEND_ROW;
  const picture = html`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${height}" width="${WIDTH}" height="${height}" role="img" aria-label="${says}" fill="currentColor" font-family="system-ui, sans-serif" font-size="13"><title>${says}</title>${said.length > 0 ? html`<desc>${said.join("; ")}</desc>` : undefined}<rect width="${WIDTH}" height="${height}" fill="#fff"></rect><g stroke="currentColor" stroke-opacity="0.18">${up
    .ticks(6)
    .map(
      (tick) => html`<path d="M${LEFT} ${round(up(tick))}H${WIDTH - RIGHT}"></path>`,
    )}</g><path d="M${LEFT} ${TOP}V${bottom}H${WIDTH - RIGHT}" fill="none" stroke="currentColor"></path><g text-anchor="end">${up
    .ticks(6)
    .map(
      (tick) => html`<text x="${LEFT - 8}" y="${round(up(tick) + 4)}">${minus(formatY(tick))}</text>`,
    )}</g><g text-anchor="middle">${ticks.map(
    ({ at, says: text }) =>
      html`<path d="M${round(at)} ${bottom}v5" stroke="currentColor"></path><text x="${round(at)}" y="${bottom + 20}">${text}</text>`,
  )}</g><text x="${WIDTH - RIGHT}" y="${HEIGHT - 8}" text-anchor="end">${over}</text><text x="8" y="18">${name}</text>${placed(within, place).map(markOf)}${groups.map(
    (group, i) =>
      html`<g fill="none" stroke="currentColor" stroke-width="1.4"><title>${group.name}</title>${group.points.map(
        (point, j) => {
          const at = round(place(point.x, i, j, group.points.length));
          const half = point.uncertainty ?? 0;
          return html`${half > 0 ? html`<path stroke-opacity="0.45" d="M${at} ${round(up(point.y - half))}V${round(up(point.y + half))}"></path>` : undefined}<path d="${shape(across.kind === "groups" ? 0 : i)}" transform="translate(${at} ${round(up(point.y))})"></path>`;
        },
      )}</g>`,
  )}${legend ? legendOf(groups) : undefined}${markLegend(said, HEIGHT + legendRows * LEGEND_ROW)}</svg>`;
  return `${picture.text}\n`;
}

const LETTER = 7;
const MARK_ROWS = 2;
const MARK_ROW = 12;

interface PlacedMark {
  readonly at: number;
  readonly says: string;
  /** Who stands above the line, and in which row; undefined where there is no room for it beside another. */
  readonly who: string;
  readonly row: number | undefined;
}

/** The lines of the marks: one for a day, with who it concerns above it. */
function placed(marks: readonly DayMark[], place: Placing["place"]): PlacedMark[] {
  const days = new Map<string, { readonly x: number; readonly did: string; readonly who: string[] }>();
  for (const { x, who, did } of marks) {
    const day = days.get(`${x} ${did}`) ?? { x, did, who: [] };
    day.who.push(who);
    days.set(`${x} ${did}`, day);
  }
  const taken = Array<number>(MARK_ROWS).fill(Number.NEGATIVE_INFINITY);
  return [...days.values()]
    .map(({ x, who, did }) => ({
      at: round(place(x, 0, 0, 1)),
      who: who.sort().join(", "),
      did,
      day: dayOf(x),
    }))
    .sort((a, b) => a.at - b.at)
    .map(({ at, who, did, day }) => {
      const half = (who.length * LETTER) / 2;
      const row = taken.findIndex((to) => at - half > to);
      if (row >= 0) taken[row] = at + half + LETTER / 2;
      return { at, who, says: `${who} ${did} ${day}`, row: row < 0 ? undefined : row };
    });
}

const dayOf = (x: number): string => new Date(x).toISOString().slice(0, 10);

/** A dashed line from top to bottom and a name above it, which need no colour to be told from a value. */
const markOf = ({ at, says, who, row }: PlacedMark): Html =>
  html`<g><title>${says}</title><path d="M${at} ${TOP}V${HEIGHT - BOTTOM}" fill="none" stroke="currentColor" stroke-dasharray="5 4"></path>${
    row === undefined
      ? undefined
      : html`<text x="${at}" y="${TOP - 5 - row * MARK_ROW}" font-size="11" text-anchor="middle">${who}</text>`
  }</g>`;

/** What is said of the marks under the plot, a row for each whom they concern. */
function saidOf(marks: readonly DayMark[]): string[] {
  const rows = new Map<string, string[]>();
  for (const { who, did, x } of [...marks].sort((a, b) => a.x - b.x)) {
    const key = `${who} ${did}`;
    rows.set(key, [...(rows.get(key) ?? []), dayOf(x)]);
  }
  return [...rows].map(([who, days]) => `${who} ${days.join(", ")}`).sort();
}

const markLegend = (rows: readonly string[], from: number): Html[] =>
  rows.map((says, i) => {
    const y = from + i * LEGEND_ROW;
    return html`<g><title>${says}</title><path d="M${LEFT - 4} ${y}h20" stroke="currentColor" stroke-dasharray="5 4"></path><text x="${LEFT + 20}" y="${y + 4}">${shortened(says, MOST_SAID)}</text></g>`;
  });

const MOST_SAID = 90;

const legendOf = (groups: readonly Dots[]): Html[] =>
  groups.map(
    ({ name }, i) =>
      html`<path d="${shape(i)}" transform="translate(${LEFT + 6} ${HEIGHT + i * LEGEND_ROW})" fill="none" stroke="currentColor" stroke-width="1.4"></path><text x="${LEFT + 20}" y="${HEIGHT + i * LEGEND_ROW + 4}">${name === "" ? "(none)" : name}</text>`,
  );

const shape = (group: number): string => symbol(symbolsStroke[group % symbolsStroke.length], 48)() ?? "";

interface Placing {
  /** Where a point stands across: by its value, or by its group and its number in it. */
  place(x: number, group: number, number: number, count: number): number;
  readonly ticks: readonly { readonly at: number; readonly says: string }[];
}

function scaleAcross(groups: readonly Dots[], across: Across): Placing {
  const right = WIDTH - RIGHT;
  if (across.kind === "groups") {
    const step = (right - LEFT) / groups.length;
    return {
      // Side by side within the group's own room, so that equal values do not hide each other.
      place: (_, group, number, count) => LEFT + step * (group + 0.2 + (0.6 * (number + 0.5)) / count),
      ticks: groups.map(({ name }, i) => ({
        at: LEFT + step * (i + 0.5),
        says: shortened(name, Math.floor(step / 7)),
      })),
    };
  }
  const [from = 0, to = 0] = extent(groups.flatMap(({ points }) => points.map(({ x }) => x)));
  if (across.kind === "days") {
    // Marks not far from the points still belong in the picture; others would press it together.
    const near = (across.marks ?? []).map(({ x }) => x).filter((x) => withinReach(x, from, to));
    const ends = [Math.min(from, ...near), Math.max(to, ...near)];
    const scale = scaleUtc(from === to ? [from - DAY, to + DAY] : ends, [LEFT, right]).nice(8);
    const format = scale.tickFormat(8);
    return {
      place: (x) => scale(x),
      ticks: scale.ticks(8).map((at) => ({ at: scale(at), says: format(at) })),
    };
  }
  const scale = scaleLinear(room(from, to), [LEFT, right]).nice(8);
  const format = scale.tickFormat(8);
  return {
    place: (x) => scale(x),
    ticks: scale.ticks(8).map((tick) => ({ at: scale(tick), says: minus(format(tick)) })),
  };
}

const REACH = 0.25;
const withinReach = (x: number, from: number, to: number): boolean =>
  x >= from - REACH * (to - from) && x <= to + REACH * (to - from);

const DAY = 86_400_000;
const round = (value: number): number => Math.round(value * 10) / 10;
const shortened = (text: string, most: number): string =>
  text === "" ? "" : text.length <= most ? text : `${text.slice(0, Math.max(1, most - 1))}…`;

/** Equal values still need a height. */
function room(low: number, high: number): [number, number] {
  if (high > low) return [low, high];
  const half = low === 0 ? 1 : Math.abs(low) * 0.1;
  return [low - half, low + half];
}
