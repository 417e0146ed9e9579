import type { NamedValue, Working } from "../analysis/analysis.ts";
import { signature } from "../analysis/call-matching.ts";
import type { FunctionEntry, Parameter } from "../physics/function.ts";
import type { Procedure, Step } from "../procedures/procedure.ts";
import type { AccuracyPart, Instrument } from "../shop/shop.ts";
import { describeDimension } from "../units/dimension-name.ts";
import { fromSI, type Unit } from "../units/unit.ts";
import { type Card, type CardPart, list, says } from "./card.ts";

/** The working behind a value: formula, numbers put in, result, and all that it rests on. */
export function workingCard(value: NamedValue, working: Working): Card {
  const lines = [working.formula, working.numbers, working.result].filter((line) => line !== "");
  // A reading's formula, numbers and result can be the same words; once is enough.
  const parts: CardPart[] = [];
  const shown = [...new Set(lines)];
  if (shown.length > 0) parts.push({ kind: "lines", lines: shown });
  const contributions = working.contributions.map(({ says: what, share }) => `${what}: ${percent(share)}`);
  parts.push(
    list("What the uncertainty comes from", contributions),
    list("Rests on", working.assumptions),
    list("Equation", working.equations),
    list("Source", working.sources),
    list("Caution", working.cautions),
  );
  const result = value.shown ? ` ${value.kind === "derived" ? "≈" : "="} ${value.shown.text}` : "";
  return { title: value.name + result, parts };
}

const percent = (share: number): string => (share < 0.005 ? "under 1 %" : `${Math.round(share * 100)} %`);

// ---- Units ----------------------------------------------------------------------------------------

const SCALES: Readonly<Record<Unit["scale"], string>> = {
  plain: "",
  point: "A point on a temperature scale; write differences in `K` or `delta degC`.",
  kelvin: "A temperature from absolute zero, or a temperature difference.",
  difference: "A temperature difference, not a temperature.",
  gauge: "Gauge pressure: measured against the air around, so 0 is open to the air.",
  absolute: "Absolute pressure: measured against vacuum.",
};

export function unitCard(unit: Unit): Card {
  const parts: CardPart[] = [];
  const kind = describeDimension(unit.dimension);
  if (kind) parts.push(says(`Measures ${kind}.`));
  const scale = SCALES[unit.scale];
  if (scale !== "") parts.push(says(scale));
  if (unit.remark) parts.push(says(unit.remark));
  return { title: unit.spelling, parts };
}

// ---- Functions ------------------------------------------------------------------------------------

export function functionCard(entry: FunctionEntry): Card {
  const parts: CardPart[] = [
    { kind: "lines", lines: [signature(entry)] },
    says(entry.says),
    list("Arguments", entry.parameters.map(parameterSays)),
    list("Equation", entry.equation === "" ? [] : [entry.equation]),
    list("Rests on", entry.assumes),
    list("Holds", entry.validity === "" ? [] : [entry.validity]),
    list("Source", entry.source === "" ? [] : [entry.source]),
    list("Caution", entry.caution ? [entry.caution] : []),
  ];
  const example = entry.examples[0];
  if (example) parts.push(list("Example", [`\`${example.formula}\` gives ${example.gives}`]));
  return { title: entry.name, parts };
}

export function parameterSays(parameter: Parameter): string {
  const optional = optionalSays(parameter);
  return `${parameter.name}: ${parameter.says}${optional === "" ? "" : ` (${optional})`}`;
}

function optionalSays({ optional }: Parameter): string {
  if (!optional) return "";
  if ("value" in optional) {
    const tolerance = optional.tolerance > 0 ? ` ± ${optional.tolerance}` : "";
    const unit = optional.unit === "" || optional.unit === "1" ? "" : ` ${optional.unit}`;
    return `if left out: ${optional.value}${tolerance}${unit}`;
  }
  if ("choice" in optional) return `if left out: ${optional.choice}`;
  return optional.from === "nothing" ? "may be left out" : "if left out: the note's ambient pressure";
}

// ---- Shop and procedure ---------------------------------------------------------------------------

export function instrumentCard(instrument: Instrument): Card {
  const { unit } = instrument;
  const shown = (si: number): string => String(Number(fromSI(si, unit).toPrecision(6)));
  const span = (si: number): string => String(Number((si / unit.factor).toPrecision(6)));
  const parts: CardPart[] = [];
  if (instrument.description) parts.push(says(instrument.description));
  const items = [`range ${shown(instrument.low)} to ${shown(instrument.high)} ${unit.spelling}`];
  const accuracy = instrument.accuracy.map((part) => accuracySays(part, span, unit.spelling));
  if (accuracy.length > 0) items.push(`accuracy ± (${accuracy.join(" + ")})`);
  if (instrument.resolution > 0) items.push(`resolution ${span(instrument.resolution)} ${unit.spelling}`);
  if (instrument.calibrated) items.push(`calibrated ${instrument.calibrated}`);
  if (instrument.calibrationDue) items.push(`calibration due ${instrument.calibrationDue}`);
  parts.push(list("Instrument", items));
  return { title: instrument.id, parts };
}

function accuracySays(part: AccuracyPart, span: (si: number) => string, unit: string): string {
  switch (part.kind) {
    case "of reading":
      return `${Number((part.fraction * 100).toPrecision(6))} % of reading`;
    case "of full scale":
      return `${Number((part.fraction * 100).toPrecision(6))} % of full scale`;
    case "digits":
      return `${part.count} digits`;
    case "fixed":
      return `${span(part.halfWidth)} ${unit}`;
  }
}

export function procedureCard(procedure: Procedure): Card {
  return {
    title: procedure.title,
    parts: [
      says(procedure.covers),
      list("Caution", procedure.cautions),
      list("Goes before this", procedure.defer),
    ],
  };
}

export function stepCard(step: Step, procedure: Procedure): Card {
  const condition = (id: string): string => procedure.conditions.get(id)?.says ?? id;
  const needs = step.needs.map((need) => {
    const terms = ("all" in need ? need.all : need.anyOf).map((term) =>
      typeof term === "string" ? condition(term) : `not ${condition(term.not)}`,
    );
    return "all" in need ? terms.join(" and ") : `any of: ${terms.join(", ")}`;
  });
  return {
    title: step.name,
    parts: [
      list("Needs", needs),
      list("Makes", step.makes.map(condition)),
      list("Undoes", step.undoes.map(condition)),
      list("Remark starts with", step.outcome ? [step.outcome] : []),
      list("Also written", step.aliases.length > 0 ? [step.aliases.join(", ")] : []),
      list("Caution", step.caution ? [step.caution] : []),
    ],
  };
}
