import type { DefaultLimit } from "../procedures/procedure-schema.ts";
import type { ShopLimit } from "../shop/shop.ts";
import { PRESSURE } from "../units/dimension.ts";
import { readUnit } from "../units/index.ts";
import { toSI } from "../units/unit.ts";
import type { Subject } from "./rule.ts";

/** A limit in force, SI, with whose it is. */
export interface LimitInForce {
  readonly warnAbove: number | undefined;
  readonly errorAbove: number | undefined;
  /** An error at this value already. */
  readonly errorFrom: number | undefined;
  readonly whose: "note" | "shop" | "built-in";
  /** Where the figure comes from, in words. */
  readonly source: string;
}

/** The shop's limit over the built-in one. */
export function standingLimit(limit: DefaultLimit, subject: Subject): LimitInForce | undefined {
  const builtIn = builtInLimit(limit, subject);
  const shops = shopLimit(limit, subject);
  if (!shops || !builtIn) return shops ?? builtIn;
  const { warnAbove: warn, errorAbove: error } = shops;
  if (!limit.raisable) {
    // Nobody may raise it, so of two figures the lower one stands.
    return {
      ...shops,
      warnAbove: lower(warn, builtIn.warnAbove),
      errorAbove: lower(error, builtIn.errorAbove),
      errorFrom: builtIn.errorFrom,
      source: lowest(shops) <= lowest(builtIn) ? shops.source : builtIn.source,
    };
  }
  // A figure that the shop leaves out stays the built-in one, as long as it lies on the right side of the other.
  const keepsError = warn === undefined || (builtIn.errorAbove ?? 0) >= warn;
  const keepsWarning = error === undefined || (builtIn.warnAbove ?? 0) <= error;
  return {
    ...shops,
    warnAbove: warn ?? (keepsWarning ? builtIn.warnAbove : undefined),
    errorAbove: error ?? (keepsError ? builtIn.errorAbove : undefined),
  };
}

const lower = (a: number | undefined, b: number | undefined): number | undefined =>
  a === undefined ? b : b === undefined ? a : Math.min(a, b);

export const lowest = (force: LimitInForce): number =>
  Math.min(
    force.warnAbove ?? Number.POSITIVE_INFINITY,
    force.errorAbove ?? Number.POSITIVE_INFINITY,
    force.errorFrom ?? Number.POSITIVE_INFINITY,
  );

function builtInLimit(limit: DefaultLimit, subject: Subject): LimitInForce | undefined {
  const bound = (written: DefaultLimit["errorAbove"]): number | undefined => {
    if (written === undefined) return undefined;
    if (typeof written === "string") return boundInSI(written);
    return statedBound(written.reading, subject);
  };
  const made = {
    warnAbove: bound(limit.warnAbove),
    errorAbove: bound(limit.errorAbove),
    errorFrom: bound(limit.errorFrom),
    whose: "built-in" as const,
    source: limit.source,
  };
  return Number.isFinite(lowest(made)) ? made : undefined;
}

/**
 * The bound that the note's readings state, under the procedure's name for it or another one of it, SI gauge. Of
 * several, also of a list, the lowest counts: the weakest part sets the limit.
 */
function statedBound(name: string, { evaluation, procedure }: Subject): number | undefined {
  const expected = procedure?.readings.find((one) => one.name === name);
  const stated = evaluation.endingIn([name, ...(expected?.aliases ?? [])]).flatMap(({ result }) => {
    if (result?.kind !== "quantity" || result.dimension !== PRESSURE) return [];
    const least = result.sampling ? leastOf(result.sampling.values) : result.si;
    const ambient =
      result.scale === "absolute" ? evaluation.context("", () => undefined).ambient().quantity.si : 0;
    return [least - ambient];
  });
  return stated.length > 0 ? leastOf(stated) : undefined;
}

const leastOf = (values: readonly number[]): number =>
  values.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY);

/** `60 degC` of a procedure file. */
function boundInSI(written: string): number | undefined {
  const parts = /^([+-]?\d+(?:\.\d+)?) (\S.*)$/.exec(written);
  const reading = parts?.[2] === undefined ? undefined : readUnit(parts[2]);
  return reading?.ok ? toSI(Number(parts?.[1]), reading.unit) : undefined;
}

function shopLimit(limit: DefaultLimit, { shop, procedure }: Subject): LimitInForce | undefined {
  const fits = (one: ShopLimit) =>
    (one.procedure === undefined || one.procedure === procedure?.id) &&
    limit.of.readings.some((name) => name === one.quantity);
  // One for this very procedure goes before one for all.
  const own = shop.limits.find((one) => fits(one) && one.procedure !== undefined) ?? shop.limits.find(fits);
  if (!own) return undefined;
  return {
    warnAbove: own.warnAbove,
    errorAbove: own.errorAbove,
    errorFrom: undefined,
    whose: "shop",
    source: own.source ?? "the shop file",
  };
}
