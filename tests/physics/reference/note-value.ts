/** Values out of a small note, read and worked out by the whole checker. */
import { evaluateAll } from "../../../server/src/analysis/evaluation.ts";
import { evaluate } from "../../../server/src/analysis/expression.ts";
import { standardUncertainty } from "../../../server/src/analysis/quantity.ts";
import { collectNames } from "../../../server/src/analysis/scope.ts";
import { analyze } from "../../../server/src/check/analyze.ts";
import { readNote } from "../../../server/src/note/read-note.ts";
import { readYaml } from "../../../server/src/note/yaml-library.ts";
import type { Shop } from "../../../server/src/shop/shop.ts";
import { inSI } from "../call.ts";

const NO_SHOP: Shop = {
  present: false,
  instruments: new Map(),
  materials: new Map(),
  limits: [],
  procedures: new Map(),
  units: undefined,
  unitPlaces: new Map(),
  formulas: new Map(),
  problems: [],
};

function shown(readings: string, name: string): { value: number; uncertainty: number; unit: string } {
  const text = `---\njob: reference\n---\n\n\`\`\`readings\n${readings}\n\`\`\`\n`;
  const analysis = analyze(readNote(text, readYaml), NO_SHOP);
  const found = analysis.values.find((v) => v.key === name)?.shown;
  if (found?.kind !== "quantity")
    throw new Error(`no value ${name}: ${analysis.findings.map((f) => f.message).join(" ")}`);
  return { value: found.value, uncertainty: found.uncertainty ?? 0, unit: found.unit };
}

/** The standard uncertainty of a formula at first order, as the GUM's own examples have it, SI. */
export function firstOrderUncertainty(readings: string, name = "x"): number {
  const text = `---\njob: reference\n---\n\n\`\`\`readings\n${readings}\n\`\`\`\n`;
  const evaluation = evaluateAll(collectNames(readNote(text, readYaml)), NO_SHOP);
  const body = evaluation.byKey.get(name)?.definition.body;
  if (body?.kind !== "line" || body.syntax.kind !== "formula") throw new Error(`no formula ${name}`);
  const result = evaluate(
    body.syntax.formula,
    evaluation.context("", () => undefined),
  );
  if (result?.kind !== "quantity") throw new Error(`no value ${name}`);
  return standardUncertainty(result.by);
}

/** The value of the reading `x` in SI units. */
export function noteValue(readings: string, name = "x"): number {
  const { value, unit } = shown(readings, name);
  return inSI(value, unit || "1");
}

/** Its standard uncertainty, half of the expanded one with k = 2, in SI units. */
export function noteUncertainty(readings: string, name = "x"): number {
  const { uncertainty, unit } = shown(readings, name);
  return (inSI(uncertainty, unit || "1") - inSI(0, unit || "1")) / 2;
}
