import * as z from "zod/mini";
import type { Range } from "../note/note.ts";
import type { YamlNode } from "../note/yaml-tree.ts";
import type { Procedure } from "../procedures/procedure.ts";
import { nearest } from "../text/nearest.ts";
import { asPoint, fits, type Report, readQuantity } from "./piece.ts";
import { checkForm, optionalText, textAt } from "./section.ts";
import type { ShopLimit } from "./shop.ts";

const text = z.string().check(z.minLength(1));
const limitSchema = z.strictObject({
  procedure: z.optional(text),
  reading: text,
  "warn above": z.optional(text),
  "error above": z.optional(text),
  source: z.optional(text),
});

const firstKey = (node: YamlNode): Range =>
  (node.kind === "map" ? node.entries[0]?.keyRange : undefined) ?? node.range;

/** Reads one limit of the shop; undefined where it would limit nothing, with the reason reported. */
export function readLimit(
  node: YamlNode,
  procedures: ReadonlyMap<string, Procedure>,
  report: Report,
): ShopLimit | undefined {
  const map = checkForm(node, limitSchema, "a limit", firstKey(node), report);
  const reading = map && textAt(map, "reading");
  if (!map || !reading) return undefined;
  const procedure = textAt(map, "procedure");
  if (procedure && !procedures.has(procedure.text)) {
    const [near] = nearest(procedure.text, procedures.keys(), 1);
    const advice = near ? `Perhaps \`${near}\` is meant.` : `Known are ${[...procedures.keys()].join(", ")}.`;
    report(procedure.range, `There is no procedure \`${procedure.text}\`.`, advice);
    return undefined;
  }
  const warnText = textAt(map, "warn above");
  const errorText = textAt(map, "error above");
  if (!warnText && !errorText) {
    report(map.range, "This limit limits nothing.", "Add `warn above:`, `error above:` or both.");
    return undefined;
  }
  const warn = warnText && readQuantity(warnText, report);
  const error = errorText && readQuantity(errorText, report);
  const unit = (error ?? warn)?.unit;
  if (!unit || (warnText && !warn) || (errorText && !error)) return undefined;
  if (warn && error) {
    if (!fits(warn, unit.dimension, "`warn above`", report)) return undefined;
    if (warn.unit.scale !== unit.scale) {
      const advice = "Write both as gauge or both as absolute pressure.";
      report(warn.at.range, "`warn above` and `error above` are not counted from the same zero.", advice);
      return undefined;
    }
    if (asPoint(warn) > asPoint(error)) {
      report(
        warn.at.range,
        "The warning would come only after the error.",
        "Put `warn above` at or below `error above`.",
      );
    }
  }
  return {
    ...(procedure ? { procedure: procedure.text } : {}),
    quantity: reading.text.toLowerCase().replace(/\s+/g, " "),
    ...(warn ? { warnAbove: asPoint(warn) } : {}),
    ...(error ? { errorAbove: asPoint(error) } : {}),
    unit,
    ...optionalText(map, "source"),
    range: map.range,
  };
}
