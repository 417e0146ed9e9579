import { inWords } from "../analysis/showing.ts";
import { isNamed } from "../sequence/grounds.ts";
import type { ShopLimit } from "../shop/shop.ts";
import { fromSI } from "../units/unit.ts";
import { type Report, rangeOn, type Subject } from "./rule.ts";
import { greatestOf } from "./taken-readings.ts";
import { upperLimits } from "./upper-limits.ts";

/**
 * The shop's own limits on readings, save those that take the place of a procedure's default limit, which
 * has a rule of its own. The note's limit on the same reading goes first.
 */
export function* shopLimitReports(subject: Subject): Iterable<Report> {
  const { shop, procedure, evaluation } = subject;
  const limits = shop.limits.filter(
    (one) =>
      (one.procedure === undefined || one.procedure === procedure?.id) &&
      !procedure?.limits.some((other) => other.of.readings.includes(one.quantity)),
  );
  if (limits.length === 0) return;
  for (const { definition, result } of evaluation.all) {
    const { body, key, name } = definition;
    if (result?.kind !== "quantity" || body.kind !== "line") continue;
    const limit = bindingOn(key, limits);
    if (!limit || limit.unit.dimension !== result.dimension) continue;
    if ((limit.unit.scale === "absolute") !== (result.scale === "absolute")) continue;
    if (upperLimits(subject).some((upper) => isNamed(key, [upper.name]))) continue;
    const value = result.sampling ? greatestOf(result.sampling.values) : result.si;
    const over = (bound: number | undefined) =>
      bound !== undefined && value > bound + 1e-12 * Math.max(Math.abs(bound), Math.abs(value));
    const error = over(limit.errorAbove);
    if (!error && !over(limit.warnAbove)) continue;
    const bound = (error ? limit.errorAbove : limit.warnAbove) ?? 0;
    const unit = result.unit ?? limit.unit;
    const shown = (si: number) => inWords(fromSI(si, unit), null, unit.spelling);
    const { syntax } = body;
    const span =
      syntax.kind === "measured"
        ? syntax.value.span
        : syntax.kind === "formula"
          ? syntax.formula.span
          : definition.nameSpan;
    yield {
      range: rangeOn(body.placed, span),
      severity: error ? "error" : "warning",
      message: `\`${name}\` is ${shown(value)}, above the shop's limit of ${shown(bound)}.`,
      advice: `Stop and put it right, or check the reading. If the maker allows more for this part, write a limit with its source into the note.${limit.source ? ` The limit comes from: ${limit.source}.` : ""}`,
    };
  }
}

/** The shop's limit on a reading: one for this very procedure goes before one for all. */
function bindingOn(key: string, limits: readonly ShopLimit[]): ShopLimit | undefined {
  const meant = limits.filter((one) => isNamed(key, [one.quantity]));
  return meant.find((one) => one.procedure !== undefined) ?? meant[0];
}
