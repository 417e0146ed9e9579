import { nearest } from "../text/nearest.ts";
import { COMMON_COMPOUNDS, COMMON_SCALED_PRESSURES } from "./table/compounds.ts";
import type { UnitReading } from "./unit.ts";
import { everydaySpellings, fold, UNIT_TABLE } from "./unit-table.ts";
import { UNIT_TRAPS } from "./unit-traps.ts";

const OFFERED = 3;
/** No unit is this long; a whole sentence taken for one is not compared with anything. */
const LONGEST = 40;

let vocabulary: readonly string[] | undefined;

/** Every spelling that a mistyped unit is compared with. UCUM codes are read, but not offered. */
export function knownSpellings(): readonly string[] {
  vocabulary ??= [
    ...UNIT_TABLE.flatMap(everydaySpellings),
    ...COMMON_SCALED_PRESSURES,
    ...COMMON_COMPOUNDS,
    "barg",
    "bara",
    "mbarg",
    "mbara",
    "kPag",
    "kPaa",
  ];
  return vocabulary;
}

/**
 * What to say about `spelling`, of which the part `bad` cannot be read. Everything offered passes
 * `canBeRead`: an offer that is itself unknown helps nobody. `also` are spellings beyond the table's.
 */
export function explainUnknown(
  spelling: string,
  bad: { readonly from: number; readonly to: number },
  canBeRead: (spelling: string) => boolean,
  also: readonly string[] = [],
): UnitReading {
  const before = spelling.slice(0, bad.from);
  const part = spelling.slice(bad.from, bad.to);
  const after = spelling.slice(bad.to);
  const wholeTrap = UNIT_TRAPS.get(fold(spelling));
  if (wholeTrap) return { ok: false, from: 0, to: spelling.length, ...wholeTrap };

  const trap = UNIT_TRAPS.get(fold(part));
  const inPlace = (trap?.nearest ?? nearestTo(part, also)).map((near) => before + near + after);
  const offers = part === spelling || trap ? inPlace : [...nearestTo(spelling, also), ...inPlace];
  const reading = {
    ok: false,
    from: bad.from,
    to: bad.to,
    nearest: [...new Set(offers)].filter(canBeRead).slice(0, OFFERED),
  } as const;
  return trap ? { ...reading, remark: trap.remark } : reading;
}

function nearestTo(text: string, also: readonly string[]): readonly string[] {
  if (text.length > LONGEST) return [];
  return nearest(text, also.length > 0 ? [...also, ...knownSpellings()] : knownSpellings(), OFFERED);
}
