import { dirname, relative, sep } from "node:path";
import type { Analysis } from "../analysis/analysis.ts";
import { analyze } from "../analysis/analyze.ts";
import { findTexts } from "../host/find-texts.ts";
import { ShopFinder } from "../host/nearest-shop.ts";
import { readText } from "../host/read-text.ts";
import { surroundingsOf } from "../host/surroundings.ts";
import { isJobNote, readNote } from "../note/read-note.ts";
import { builtInProcedures } from "../procedures/load.ts";
import { addTo, type Checked, NOTHING } from "../report/checked.ts";
import { harmless } from "../report/display-width.ts";
import { noShop, readShop } from "../shop/read-shop.ts";
import type { Shop } from "../shop/shop.ts";
import { shopFindings } from "../shop/shop-findings.ts";
import { indexLines } from "../text/line-index.ts";
import { EXIT, type ExitStatus, type Outside } from "./outside.ts";
import { type CheckOptions, reporterFor } from "./reporter.ts";

/** `witness-mark check`: checks notes and shop files and reports what it finds. */
export function check(paths: readonly string[], options: CheckOptions, outside: Outside): ExitStatus {
  const found = findTexts(paths.length === 0 ? ["."] : paths, outside.folder);
  const reporter = reporterFor(options, outside);
  const shown = (path: string): string => relativePath(path, outside.folder);
  let totals = NOTHING;
  let failed = false;

  const fail = (path: string, reason: string): void => {
    failed = true;
    outside.err(`${harmless(path)} ${reason}.\n`);
  };
  const report = (checked: Checked): void => {
    totals = addTo(totals, checked);
    reporter.file(checked);
  };
  const shops = new Shops(outside, (path, outcome) => {
    if ("reason" in outcome) fail(shown(path), outcome.reason);
    else if (outcome.findings.length > 0) report({ ...outcome, path: shown(path) });
  });

  for (const { path, reason } of found.failures) fail(path, reason);
  for (const path of found.shops) shops.at(path);
  for (const path of found.notes) {
    const reading = readText(path);
    const text = reading.ok ? reading.text : reading.head;
    try {
      const note = text === undefined ? undefined : readNote(text, outside.yaml);
      if (note !== undefined && !isJobNote(note)) {
        if (found.named.has(path)) {
          if (reading.ok)
            outside.err(`${harmless(shown(path))} is no job note: its front matter has no \`job:\`.\n`);
          else fail(shown(path), reading.reason);
        }
      } else if (!reading.ok || note === undefined) {
        if (!reading.ok) fail(shown(path), reading.reason);
      } else {
        const folder = dirname(path);
        const analysis: Analysis = analyze(note, shops.near(folder), surroundingsOf(note, folder));
        report({
          path: shown(path),
          text: note.text,
          lines: note.lines,
          findings: analysis.findings,
          analysis,
        });
      }
    } catch (fault) {
      fail(shown(path), ownFault(fault));
    }
  }
  reporter.end(totals);
  if (failed) return EXIT.failed;
  return totals.errors > 0 ? EXIT.errors : EXIT.clear;
}

type ShopOutcome = { readonly reason: string } | Omit<Checked, "path">;

/** Reads each shop file once and tells `seen` what came of it. */
class Shops {
  readonly #finder = new ShopFinder();
  readonly #read = new Map<string, Shop>();
  readonly #builtIn = builtInProcedures;
  readonly #none = noShop(this.#builtIn);

  constructor(
    private readonly outside: Outside,
    private readonly seen: (path: string, outcome: ShopOutcome) => void,
  ) {}

  near(folder: string): Shop {
    const path = this.#finder.find(folder);
    return path === undefined ? this.#none : this.at(path);
  }

  at(path: string): Shop {
    const known = this.#read.get(path);
    if (known !== undefined) return known;
    const reading = readText(path);
    const shop = reading.ok ? readShop(reading.text, this.outside.yaml, this.#builtIn) : this.#none;
    this.#read.set(path, shop);
    this.seen(
      path,
      reading.ok
        ? { text: reading.text, lines: indexLines(reading.text), findings: shopFindings(shop) }
        : { reason: reading.reason },
    );
    return shop;
  }
}

/** With forward slashes on every system, so that a result can be compared with one made elsewhere. */
export function relativePath(path: string, folder: string): string {
  const way = relative(folder, path);
  return sep === "/" ? way : way.split(sep).join("/");
}

/** What to say when the checker itself is at fault: a sentence instead of a stack trace. */
export function ownFault(fault: unknown): string {
  const message = fault instanceof Error ? fault.message : String(fault);
  return `could not be checked because of a fault in Witness Mark itself (${harmless(message)}). The note is not to blame; please report this together with the note`;
}
