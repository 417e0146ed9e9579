import type { Evaluated } from "../analysis/evaluation.ts";
import type { Quantity } from "../analysis/quantity.ts";
import { CURRENT, POWER } from "../units/dimension.ts";
import type { Subject } from "./rule.ts";

/** A load or a rating of the note: how it is named, and under which label. */
export interface ElectricalReading {
  readonly evaluated: Evaluated;
  readonly quantity: Quantity;
  /** The label of its block in lower case; empty where it has none. */
  readonly label: string;
  /** The words before `current`, `fuse` or `rating`: `supply` of `supply current`. */
  readonly of: string;
}

const LOAD = /^(?:(.*) )?(?:current|draw|load|power)$/;
const RATING =
  /^(?:(.*) )?(?:fuse|breaker)(?: rating| size| limit)?$|^(.*(?:supply|outlet|socket|inverter|converter|adapter|battery charger))(?: fuse)? (?:rating|limit|maximum)$/;

/** Names of loads that mean all that hangs on the one supply. */
const WHOLE = new Set([
  "",
  "supply",
  "load",
  "total",
  "running",
  "peak",
  "mean",
  "greatest",
  "tester",
  "heater",
]);
/** Ratings of the supply as a whole. */
const SUPPLY = new Set([
  "",
  "supply",
  "main",
  "outlet",
  "socket",
  "bench",
  "inverter",
  "converter",
  "adapter",
  "battery charger",
]);

/** How the name of any load or rating ends. */
const MAY_END = /(?:current|draw|load|power|fuse|breaker|rating|size|limit|maximum)$/;

function* named(subject: Subject, pattern: RegExp): Iterable<ElectricalReading> {
  const ends = (key: string): boolean => MAY_END.test(key);
  for (const evaluated of subject.evaluation.named(MAY_END, ends)) {
    const { definition, result } = evaluated;
    if (result?.kind !== "quantity" || definition.body.kind !== "line") continue;
    if (result.dimension !== CURRENT && result.dimension !== POWER) continue;
    const label = definition.block.label.toLowerCase();
    const bare = label === "" ? definition.key : definition.key.slice(label.length + 1);
    const match = pattern.exec(bare);
    if (match) yield { evaluated, quantity: result, label, of: match[1] ?? match[2] ?? "" };
  }
}

/** Currents and powers that something draws. */
export const loadsOf = (subject: Subject): readonly ElectricalReading[] => [...named(subject, LOAD)];

/** Currents and powers that a supply or its fuse gives. */
export const ratingsOf = (subject: Subject): readonly ElectricalReading[] => [...named(subject, RATING)];

/** Whether the load hangs on what the rating is about. */
export function feeds(rating: ElectricalReading, load: ElectricalReading): boolean {
  if (rating.label !== "" && rating.label !== load.label) return false;
  if (rating.of === load.of) return true;
  return SUPPLY.has(rating.of) && WHOLE.has(load.of);
}

/** Whether this is what the supply as a whole has to give. */
export const isWhole = (load: ElectricalReading): boolean => WHOLE.has(load.of);
