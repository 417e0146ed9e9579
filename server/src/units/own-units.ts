import type { Dimension } from "./dimension.ts";
import type { UnitReading } from "./unit.ts";
import type { UnitEntry } from "./unit-entry.ts";
import type { UnitSource } from "./unit-product.ts";
import { readUnitFrom } from "./unit-reader.ts";
import { fold, lookUp, type TableHit } from "./unit-table.ts";

const REMEMBERED = 4096;

/**
 * Units that a shop adds to the built-in ones. A value handed along with what it belongs to, so that two
 * shops may mean different things by one name. The built-in table goes first: no shop changes what `psi` is.
 */
export class OwnUnits {
  readonly #byName: ReadonlyMap<string, TableHit>;
  readonly #source: UnitSource;
  readonly #readings = new Map<string, UnitReading>();

  /**
   * @param entries none of their spellings is one of the table's
   * @param broken names that the shop file means to define and gets wrong, for saying so
   */
  constructor(
    readonly entries: readonly UnitEntry[],
    readonly broken: ReadonlySet<string> = new Set(),
  ) {
    const byName = new Map<string, TableHit>();
    for (const entry of entries) {
      const hit: TableHit = { entry, prefix: 1 };
      for (const spelling of spellingsOf(entry)) byName.set(fold(spelling), hit);
    }
    this.#byName = byName;
    this.#source = {
      find: (folded) => lookUp(folded) ?? byName.get(folded),
      also: entries.flatMap(spellingsOf),
    };
  }

  read(spelling: string): UnitReading {
    const known = this.#readings.get(spelling);
    if (known) return known;
    const reading = this.#told(spelling, readUnitFrom(this.#source, spelling));
    if (this.#readings.size >= REMEMBERED) this.#readings.clear();
    this.#readings.set(spelling, reading);
    return reading;
  }

  #told(spelling: string, reading: UnitReading): UnitReading {
    if (reading.ok || this.broken.size === 0) return reading;
    const part = spelling.slice(reading.from, reading.to);
    if (!this.broken.has(fold(part))) return reading;
    const remark = `The shop file means \`${part}\` to be a unit, but with a mistake. Put it right there.`;
    return { ok: false, from: reading.from, to: reading.to, nearest: [], remark };
  }

  /** The unit of the shop's own with this very spelling. */
  named(spelling: string): UnitEntry | undefined {
    return this.#byName.get(fold(spelling))?.entry;
  }

  /** The spellings that completion offers for a dimension. */
  ofDimension(dimension: Dimension): readonly string[] {
    return this.entries.filter((entry) => entry.dimension === dimension).map((entry) => entry.symbol);
  }
}

const spellingsOf = (entry: UnitEntry): string[] => [entry.symbol, ...(entry.aliases ?? [])];
