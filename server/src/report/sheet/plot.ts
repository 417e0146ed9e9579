import { extent } from "d3-array";
import { scaleLinear } from "d3-scale";
import { line } from "d3-shape";
import { type Html, html, minus } from "./html.ts";
import { goesForward, type Rows, thinned } from "./thin.ts";

/**
 * A plot as static SVG. The scales, their round ticks and the path come from d3, whose parts need no page to
 * draw on; a complete plotting library either wants one or weighs more than the whole checker.
 */
export interface Plot {
  /** What the plot shows, for somebody who does not see it. */
  readonly says: string;
  readonly x: string;
  readonly y: string;
  readonly points: readonly (readonly [x: number, y: number])[];
  /** The scale across, where it is no plain one: days, for example. */
  readonly across?: (from: number, to: number, left: number, right: number) => PlotScale;
  /** Points that stand for themselves, without a line from one to the next. */
  readonly scattered?: boolean;
}

/** What a plot asks of a scale. */
export interface PlotScale {
  (value: number): number;
  ticks(count: number): number[];
  tickFormat(count: number): (value: number) => string;
}

const plain = (from: number, to: number, left: number, right: number): PlotScale =>
  scaleLinear([from, to], [left, right]);

const WIDTH = 640;
const HEIGHT = 220;
const LEFT = 64;
const RIGHT = 16;
const TOP = 28;
const BOTTOM = 42;
/** More dots than this run into each other; the line is enough then. */
const MOST_DOTS = 80;

export function plotSvg({ says, x, y, points, across: scaleOf = plain, scattered }: Plot): Html | undefined {
  const [lowX, highX] = extent(points, ([px]) => px);
  const [lowY, highY] = extent(points, ([, py]) => py);
  if (lowX === undefined || lowY === undefined || points.length < 2) return undefined;
  const across = scaleOf(...room(lowX, highX), LEFT, WIDTH - RIGHT);
  const up = scaleLinear(room(lowY, highY), [HEIGHT - BOTTOM, TOP]).nice(5);
  const ticksX = across.ticks(8);
  const ticksY = up.ticks(5);
  const formatX = across.tickFormat(8);
  const formatY = up.tickFormat(5);
  // A line through points that go back and forth would tell of an order that is not there.
  const rows = rowsOf(points);
  const inOrder = !scattered && goesForward(rows);
  const drawn = thinned(rows);
  const path = line(
    (point: readonly [number, number]) => round(across(point[0])),
    (point) => round(up(point[1])),
  )([...drawn]);
  const bottom = HEIGHT - BOTTOM;
  return html`<svg class="wm-plot" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${says}" fill="currentColor" font-size="12"><title>${says}</title><g class="wm-grid" stroke="currentColor" stroke-opacity="0.18">${ticksY.map(
    (tick) => html`<path d="M${LEFT} ${round(up(tick))}H${WIDTH - RIGHT}"></path>`,
  )}</g><path class="wm-axis" d="M${LEFT} ${TOP}V${bottom}H${WIDTH - RIGHT}" fill="none" stroke="currentColor"></path><g text-anchor="end">${ticksY.map(
    (tick) => html`<text x="${LEFT - 8}" y="${round(up(tick) + 4)}">${minus(formatY(tick))}</text>`,
  )}</g><g text-anchor="middle">${ticksX.map(
    (tick) =>
      html`<path d="M${round(across(tick))} ${bottom}v5" stroke="currentColor"></path><text x="${round(across(tick))}" y="${bottom + 18}">${minus(formatX(tick))}</text>`,
  )}</g><text x="${WIDTH - RIGHT}" y="${HEIGHT - 6}" text-anchor="end">${x}</text><text x="8" y="16">${y}</text>${
    inOrder && path
      ? html`<path class="wm-line" d="${path}" fill="none" stroke="currentColor" stroke-width="1.5" stroke-linejoin="round"></path>`
      : undefined
  }${
    drawn.length <= MOST_DOTS || !inOrder
      ? html`<g class="wm-dots">${drawn.map(([px, py]) => html`<circle cx="${round(across(px))}" cy="${round(up(py))}" r="3"></circle>`)}</g>`
      : undefined
  }</svg>`;
}

const round = (value: number): number => Math.round(value * 10) / 10;

/** A column of equal values still needs a height. */
function room(low: number, high: number | undefined): [number, number] {
  const top = high ?? low;
  if (top > low) return [low, top];
  const half = low === 0 ? 1 : Math.abs(low) * 0.1;
  return [low - half, low + half];
}

const rowsOf = (points: Plot["points"]): Rows => ({
  count: points.length,
  x: (row) => points[row]?.[0] ?? 0,
  y: (row) => points[row]?.[1] ?? 0,
});
