import type { FormulaFunction, Parameter } from "../physics/function.ts";
import { describeDimension } from "../units/index.ts";

/** The reference of all functions of the formula language, as one markdown page. */
export function functionReference(functions: readonly FormulaFunction[]): string {
  const areas = new Map<string, FormulaFunction[]>();
  for (const entry of functions) areas.set(entry.area, [...(areas.get(entry.area) ?? []), entry]);
  const lines = [
    "# Functions",
    "",
    "Generated from the functions' own entries; every example is a test. Arguments in square brackets may be left out.",
    "Results never replace the maker's service information.",
  ];
  for (const [area, entries] of areas) {
    lines.push("", `## ${area.charAt(0).toUpperCase()}${area.slice(1)}`);
    for (const entry of entries) lines.push("", ...section(entry));
  }
  return `${lines.join("\n")}\n`;
}

function section(entry: FormulaFunction): string[] {
  const call = entry.parameters.map((p) => (p.optional ? `[${p.name}]` : p.name)).join(", ");
  const lines = [
    `### ${entry.name}`,
    "",
    `\`${entry.name}(${call})\``,
    "",
    entry.says,
    "",
    "| argument | takes | |",
    "|---|---|---|",
  ];
  for (const parameter of entry.parameters)
    lines.push(`| ${parameter.name} | ${takes(parameter)} | ${parameter.says}${otherwise(parameter)} |`);
  lines.push("", `Equation: ${entry.equation}`, "");
  if (entry.assumes.length > 0) lines.push(`Rests on: ${entry.assumes.join("; ")}.`, "");
  lines.push(`Holds for: ${entry.validity}`, "", `Source: ${entry.source}`);
  if (entry.caution) lines.push("", `Caution: ${entry.caution}`);
  for (const example of entry.examples) {
    lines.push(
      "",
      "```text",
      example.formula,
      `gives ${example.gives}`,
      "```",
      "",
      `Checked against: ${example.source}`,
    );
  }
  return lines;
}

function takes({ takes: wanted }: Parameter): string {
  if (wanted.kind === "material") return "a material of the shop file";
  if (wanted.kind === "choice") return wanted.of.map((word) => `\`"${word}"\``).join(", ");
  const list = wanted.kind === "samples" ? "repeated readings or a series column, " : "";
  if (wanted.like) return `${list}the same kind as ${wanted.like}`;
  if (wanted.dimension === "any") return `${list}any quantity`;
  const scale =
    wanted.kind === "quantity" && ["gauge", "absolute", "point", "difference"].includes(wanted.scale)
      ? `, ${SCALES[wanted.scale as keyof typeof SCALES]}`
      : "";
  return `${list}${describeDimension(wanted.dimension) ?? "a quantity"}${scale}`;
}

const SCALES = {
  gauge: "gauge",
  absolute: "absolute",
  point: "on a scale",
  difference: "as a difference",
} as const;

function otherwise({ optional }: Parameter): string {
  if (!optional) return "";
  if ("says" in optional) return ` (else: ${optional.says})`;
  return optional.from === "ambient pressure"
    ? " (else: the note's `ambient pressure`, the shop's altitude, or 101.325 kPa)"
    : "";
}
