import { deviation, extent, mean, quantileSorted } from "d3-array";
import { scaleUtc } from "d3-scale";
import { inWords } from "../../analysis/showing.ts";
import { fullName, type ValueRecord } from "../../base/record.ts";
import { type Html, html } from "../sheet/html.ts";
import { type PlotScale, plotSvg } from "../sheet/plot.ts";
import type { Catalog, Entry } from "./catalog.ts";
import type { SitePage } from "./layout.ts";
import { type SiteMap, wayTo } from "./site-map.ts";
import { counted, listTable, MOST_ROWS } from "./tables.ts";

/** Values of one name in one unit, over all notes. */
export interface ValueGroup {
  readonly name: string;
  readonly unit: string;
  readonly page: string;
  /** Latest first. */
  readonly members: readonly {
    readonly entry: Entry;
    readonly value: number;
    readonly record: ValueRecord;
  }[];
}

/** A value that only one or two notes have says nothing about a trend. */
const FEWEST = 3;

/** Groups of values by name and unit, in alphabetical order. */
export function valueGroups({
  entries,
  map,
}: Pick<Catalog, "entries"> & { readonly map: SiteMap }): ValueGroup[] {
  const groups = new Map<string, { name: string; unit: string; members: ValueGroup["members"][number][] }>();
  for (const entry of entries) {
    for (const record of entry.record.values) {
      const { value, unit = "" } = record;
      if (typeof value !== "number" || !Number.isFinite(value)) continue;
      const name = fullName(record);
      const key = `${name.toLowerCase()}\n${unit}`;
      const group = groups.get(key);
      const member = { entry, value, record };
      if (group) group.members.push(member);
      else groups.set(key, { name, unit, members: [member] });
    }
  }
  return [...groups.entries()]
    .filter(([, { members }]) => members.length >= FEWEST)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, group]) => ({ ...group, page: map.named("values", `${group.name}-${group.unit}`) }));
}

export function valuesIndex(groups: readonly ValueGroup[]): SitePage {
  const page = "values.html";
  const rows = groups.map((group) => {
    const { low, high, median } = statistics(group);
    return html`<tr><th scope="row"><a href="${wayTo(group.page, page)}">${group.name}</a></th><td>${group.unit}</td><td class="number">${group.members.length}</td><td class="number">${figure(low)}</td><td class="number">${figure(median)}</td><td class="number">${figure(high)}</td></tr>`;
  });
  const caption = "Values that at least three notes have";
  return {
    page,
    title: "Values",
    body: html`<h1>Values</h1>${
      rows.length === 0
        ? html`<p>No value stands in three notes or more.</p>`
        : listTable(caption, ["Value", "Unit", "Count#", "Least#", "Median#", "Greatest#"], rows)
    }`,
  };
}

export function valuePage(group: ValueGroup): SitePage {
  const { name, unit, page, members } = group;
  const title = unit === "" ? name : `${name} in ${unit}`;
  const { low, high, median, average, spread } = statistics(group);
  const facts: [string, string][] = [
    ["Count", String(members.length)],
    ["Least", figure(low)],
    ["Median", figure(median)],
    ["Mean", figure(average)],
    ["Greatest", figure(high)],
    ["Standard deviation", figure(spread)],
  ];
  const shown = members.slice(0, MOST_ROWS);
  const caption = shown.length < members.length ? `The ${shown.length} latest` : "By job, latest first";
  return {
    page,
    title,
    body: html`<h1>${title}</h1><p>${counted(members.length, "note has", "notes have")} it.</p><dl class="facts">${facts.map(([term, says]) => html`<div><dt>${term}</dt><dd>${says}</dd></div>`)}</dl>${trend(group)}${listTable(
      caption,
      ["Day", "Job", "Subject", "Vehicle", "Value#", "With"],
      shown.map(
        ({ entry, value, record }) =>
          html`<tr><td class="day">${entry.record.day}</td><th scope="row" class="job-number"><a href="${wayTo(entry.page, page)}">${entry.job}</a></th><td>${entry.subject}</td><td>${entry.vehicle}</td><td class="number">${inWords(value, record.uncertainty ?? null, unit)}</td><td>${record.instrument}</td></tr>`,
      ),
    )}`,
  };
}

/** The values over the days of their notes. */
function trend({ name, unit, members }: ValueGroup): Html | undefined {
  const points = members
    .flatMap(({ entry, value }): [number, number][] => {
      const day = Date.parse(entry.record.day ?? "");
      return Number.isFinite(day) ? [[day, value]] : [];
    })
    .reverse();
  const days = new Set(points.map(([day]) => day));
  if (days.size < 2) return undefined;
  const y = unit === "" ? name : `${name} in ${unit}`;
  const says = `${y} over time, ${points.length} notes`;
  const svg = plotSvg({ says, x: "day of the job", y, points, across: daysAcross, scattered: true });
  return svg && html`<figure class="wm-sheet wm-figure">${svg}</figure>`;
}

/** Days across, with ticks as notes write days: `2031-03-04`, or less of it where that is enough. */
const daysAcross = (from: number, to: number, left: number, right: number): PlotScale => {
  const scale = scaleUtc([from, to], [left, right]);
  const ticks = scale.ticks(5).map(Number);
  const written = ticks.map((tick) => new Date(tick).toISOString().slice(0, 10));
  const length = written.every((day) => day.endsWith("-01-01"))
    ? 4
    : written.every((day) => day.endsWith("-01"))
      ? 7
      : 10;
  return Object.assign((value: number) => scale(value), {
    ticks: () => ticks,
    tickFormat: () => (value: number) => new Date(value).toISOString().slice(0, length),
  });
};

function statistics({ members }: ValueGroup) {
  const sorted = members.map(({ value }) => value).sort((a, b) => a - b);
  const [low, high] = extent(sorted);
  return { low, high, median: quantileSorted(sorted, 0.5), average: mean(sorted), spread: deviation(sorted) };
}

const figure = (value: number | undefined): string =>
  value === undefined ? "" : String(Number(value.toPrecision(4))).replace(/^-/, "−");
