import { STANDARD_PRESSURE, standardPressure } from "../physics/atmosphere.ts";
import type { Instrument, Shop } from "../shop/shop.ts";
import { PRESSURE } from "../units/dimension.ts";
import { readUnit } from "../units/index.ts";
import type { InstrumentErrors } from "./measured.ts";
import type { Quantity, Result, Source } from "./quantity.ts";

/** What stands in where nobody read a value, and the sources of error that several values share. */

/**
 * Half-widths of what the ambient pressure may be off by when nobody read it, in pascals: the weather moves
 * it by some 3 kPa, and an unknown altitude by as much again. Common practice, no source.
 */
const WEATHER = 3000;
const WEATHER_AND_ALTITUDE = 6000;

export function ambientPressure(
  own: Result | "missing",
  shop: Pick<Shop, "altitude">,
  assumed: (says: string, standard: number) => Source,
): { quantity: Quantity; says: string | undefined } {
  if (own && own !== "missing" && own.kind === "quantity" && own.dimension === PRESSURE) {
    return { quantity: own, says: undefined };
  }
  const made = standardAmbient(shop);
  const by = new Map([[assumed(made.says, made.standard), 1]]);
  return { quantity: { ...made.quantity, by }, says: made.says };
}

interface Ambient {
  readonly quantity: Omit<Quantity, "by">;
  readonly says: string;
  readonly standard: number;
}

const ambients = new Map<number | undefined, Ambient>();

/** The ambient pressure at the shop's altitude. Shops are few, and thousands of formulas ask for it. */
function standardAmbient({ altitude }: Pick<Shop, "altitude">): Ambient {
  const known = ambients.get(altitude);
  if (known) return known;
  const made = workOutAmbient(altitude);
  ambients.set(altitude, made);
  return made;
}

function workOutAmbient(altitude: number | undefined): Ambient {
  const reading = readUnit("kPa(a)");
  const unit = reading.ok ? reading.unit : undefined;
  const si = altitude === undefined ? STANDARD_PRESSURE : standardPressure(altitude);
  const halfWidth = altitude === undefined ? WEATHER_AND_ALTITUDE : WEATHER;
  const kPa = (si / 1000).toFixed(1);
  const whence = altitude === undefined ? "the standard atmosphere" : "from the shop's altitude";
  const says = `ambient pressure ${kPa} ± ${halfWidth / 1000} kPa, ${whence}, as the note has no \`ambient pressure\``;
  const quantity = { kind: "quantity", si, dimension: PRESSURE, scale: "absolute", unit } as const;
  return { quantity, says, standard: halfWidth / Math.sqrt(3) };
}

export function assumedSource(sources: Map<string, Source>, says: string, standard: number): Source {
  const known = sources.get(says);
  if (known?.standard === standard) return known;
  const key = known ? `${says}\u0000${standard}` : says;
  const other = known && sources.get(key);
  if (other) return other;
  const made: Source = { says: `assumed: ${says}`, standard };
  sources.set(key, made);
  return made;
}

export function instrumentErrors(assumed: (says: string, standard: number) => Source): InstrumentErrors {
  return {
    sharedZero: ({ id, split }: Instrument) => assumed(`zero of ${id}`, (split?.zero ?? 0) / Math.sqrt(3)),
    sharedGain: ({ id, split }: Instrument) => assumed(`gain of ${id}`, (split?.gain ?? 0) / Math.sqrt(3)),
  };
}
