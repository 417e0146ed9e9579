import type { Argument } from "../language/syntax.ts";
import type { FunctionEntry, MaterialFigure, Parameter } from "../physics/function.ts";
import type { Material } from "../shop/shop.ts";
import type { Scale } from "../units/unit.ts";
import type { Bound, Call } from "./call-arguments.ts";
import type { Context, Evaluate } from "./context.ts";
import { EXACT, type Quantity } from "./quantity.ts";

/** Arguments that a call leaves to a material's data sheet in the shop file. */

/** The material that the call names; `unknown` where the shop file has none of that name, which is reported. */
export function namedMaterial(
  entry: FunctionEntry,
  matched: ReadonlyMap<Parameter, Argument>,
  context: Context,
  evaluate: Evaluate,
): Material | undefined | "unknown" {
  const parameter = entry.parameters.find((p) => p.takes.kind === "material");
  const argument = parameter && matched.get(parameter);
  if (!argument) return undefined;
  const node = argument.value;
  const written = node.kind === "name" ? context.lookup(node.name) : evaluate(node, context);
  const words =
    written !== "missing" && written?.kind === "text"
      ? written.text
      : node.kind === "name"
        ? node.name.text
        : undefined;
  if (words === undefined) return "unknown";
  const found = context.material(words.trim().toLowerCase());
  if (found) return found;
  const known = context.materialNames();
  context.report({
    rule: "note/syntax",
    span: node.span,
    message: `The shop file has no material called \`${words}\`.`,
    advice:
      known.length > 0
        ? `Write one of: ${known.map((name) => `"${name}"`).join(", ")}.`
        : "Add it to the shop file with the figures of its data sheet, or give the figures in the formula.",
  });
  return "unknown";
}

/** A figure of the material's data sheet, taken as it stands there; undefined where the sheet lacks it. */
export function bindOfMaterial(parameter: Parameter, index: number, material: Material): Bound | undefined {
  const { takes, ofMaterial } = parameter;
  if (!ofMaterial || takes.kind !== "quantity" || takes.dimension === "any") return undefined;
  const si = figureOf(material, ofMaterial);
  if (si === undefined) return undefined;
  const { dimension } = takes;
  const scale: Scale = takes.scale === "any" ? "plain" : takes.scale;
  const quantity: Quantity = { kind: "quantity", si, dimension, scale, unit: undefined, by: EXACT };
  return {
    quantity,
    given: false,
    index,
    assumption: `${parameter.name} as \`${material.id}\` has it in the shop file`,
  };
}

function figureOf({ skinTime, cure, tubeVolume }: Material, figure: MaterialFigure): number | undefined {
  switch (figure) {
    case "skin time":
      return skinTime;
    case "tube volume":
      return tubeVolume;
    case "cure depth":
      return cure?.depth;
    case "cure time":
      return cure?.time;
    case "cure temperature":
      return cure?.temperature;
    case "cure humidity":
      return cure?.humidity;
  }
}

export function noFigure(
  call: Call,
  parameter: Parameter,
  material: Material | undefined,
  context: Context,
): undefined {
  if (!material || parameter.optional) return undefined;
  return context.report({
    rule: "note/syntax",
    span: call.name.span,
    message: `The shop file does not say the ${parameter.name} of \`${material.id}\`.`,
    advice: `Add it to the material in the shop file, or give \`${parameter.name}\` in the formula.`,
  });
}
