import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Analysis, Finding, NamedValue } from "../../server/src/analysis/analysis.ts";
import { analyze } from "../../server/src/check/analyze.ts";
import { readShop } from "../../server/src/check/read-shop.ts";
import { readLog } from "../../server/src/host/read-log.ts";
import { surroundingsOf } from "../../server/src/host/surroundings.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import type { Shop } from "../../server/src/shop/shop.ts";
import { lineAt } from "../../server/src/text/line-index.ts";

export const SAMPLES = join(import.meta.dirname, "..", "..", "samples");
export const EXPECTED = join(import.meta.dirname, "expected-findings");

/** File names of the job notes among the samples, in order. */
export const sampleNames: readonly string[] = readdirSync(SAMPLES)
  .filter((name) => name.endsWith(".md") && name !== "README.md")
  .sort();

export function readSampleShop(): Shop {
  return readShop(readFileSync(join(SAMPLES, "shop.yaml"), "utf8"), readYaml, builtInProcedures);
}

export interface Sample {
  readonly name: string;
  readonly analysis: Analysis;
}

/** Every sample, read and analysed with the samples' shop file as the command line does it. */
export function readSamples(shop: Shop = readSampleShop()): readonly Sample[] {
  return sampleNames.map((name) => {
    const note = readNote(readFileSync(join(SAMPLES, name), "utf8"), readYaml);
    return {
      name,
      analysis: analyze(
        note,
        shop,
        surroundingsOf(note, SAMPLES, (request) => readLog(request, SAMPLES, SAMPLES)),
      ),
    };
  });
}

/** Line of a finding, from 1. */
export const lineOf = (sample: Sample, finding: Finding): number =>
  lineAt(sample.analysis.note.lines, finding.range.from) + 1;

export interface ShownQuantity {
  readonly value: number;
  readonly unit: string;
  readonly uncertainty: number | null;
}

export const quantityOf = (value: NamedValue): ShownQuantity | undefined =>
  value.shown?.kind === "quantity" ? value.shown : undefined;
