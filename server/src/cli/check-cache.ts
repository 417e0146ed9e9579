import { dirname } from "node:path";
import { type CachePlace, openPack, rootOf } from "../host/cache-place.ts";
import type { KeyedSource } from "../host/keyed-source.ts";
import { keyOf, type Pack } from "../host/pack.ts";
import { stillAsSeen } from "../host/seen.ts";
import { type FileOutcome, keyParts } from "./file-checker.ts";
import type { ReportForm } from "./report-form.ts";

/** Below so many notes, checking them takes no longer than looking them up. */
const CACHE_FROM = 200;

/** Outcomes of earlier checks. One holds for the same text, shop file, path and form of the report only. */
export class CheckCache {
  readonly #pack: Pack;

  private constructor(
    pack: Pack,
    private readonly folder: string,
    private readonly form: ReportForm,
    private readonly source: KeyedSource,
  ) {
    this.#pack = pack;
  }

  /** Undefined where looking up would gain nothing, or nothing may be kept. */
  static open(
    place: CachePlace | undefined,
    paths: readonly string[],
    folder: string,
    form: ReportForm,
    source: KeyedSource,
  ): CheckCache | undefined {
    const first = paths[0];
    if (place === undefined || first === undefined || paths.length < CACHE_FROM) return undefined;
    return new CheckCache(openPack(place, "checks", rootOf(dirname(first))), folder, form, source);
  }

  /** The outcome that an earlier check kept, if it still holds; read out only when it is asked for. */
  note(path: string): (() => FileOutcome) | undefined {
    if (this.#pack.size === 0) return undefined;
    const key = this.source.start(path, ...keyParts(path, this.folder, this.form));
    const entry = key === undefined ? undefined : this.#pack.get(key);
    if (entry === undefined || !stillAsSeen(dirname(path), headOf(entry).seen ?? [])) return undefined;
    return () => {
      const outcome = fromEntry(entry);
      const shop = outcome.shop === undefined ? undefined : this.source.shopFor(dirname(path));
      return shop === undefined ? outcome : { ...outcome, shop };
    };
  }

  /** The outcome of a shop file, kept or worked out now. */
  shop(path: string, work: () => FileOutcome): FileOutcome {
    const reading = this.source.read(path);
    if (!reading.ok) return work();
    const key = keyOf("shop", reading.text, ...keyParts(path, this.folder, this.form));
    const entry = this.#pack.get(key);
    if (entry !== undefined) return fromEntry(entry);
    const outcome = work();
    if (outcome.failure === undefined) this.#pack.set(key, toEntry(outcome));
    return outcome;
  }

  keep(outcome: FileOutcome): void {
    if (outcome.key !== undefined && outcome.failure === undefined) {
      this.#pack.set(outcome.key, toEntry(outcome));
    }
  }

  save(): void {
    this.#pack.save();
  }
}

/** The written result stands as it is behind a first line with the rest. */
function toEntry({ written, key: _, ...rest }: FileOutcome): Buffer {
  return Buffer.from(`${JSON.stringify({ ...rest, nothing: written === undefined })}\n${written ?? ""}`);
}

type Head = FileOutcome & { readonly nothing?: boolean };

function headOf(entry: Buffer): Head {
  return JSON.parse(entry.toString("utf8", 0, entry.indexOf(10)));
}

function fromEntry(entry: Buffer): FileOutcome {
  const { nothing, ...rest } = headOf(entry);
  return nothing ? rest : { ...rest, written: entry.toString("utf8", entry.indexOf(10) + 1) };
}
