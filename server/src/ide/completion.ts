import type { Analysis } from "../analysis/analysis.ts";
import { commentStart } from "../language/scanner.ts";
import type { Shop } from "../shop/shop.ts";
import { completeFence } from "./completion/fences.ts";
import { completeFrontMatter } from "./completion/front-matter.ts";
import { completeLimit } from "./completion/limits.ts";
import { type Completion, type LogFiles, NO_LOG_FILES } from "./completion/place.ts";
import { completeReading } from "./completion/readings.ts";
import { completeSeries } from "./completion/series.ts";
import { completeStep } from "./completion/steps.ts";
import { blockAt, lineOf } from "./locate.ts";

/** What may stand at the cursor. Empty where nothing helps, as in prose and comments. */
export function complete(
  analysis: Analysis,
  shop: Shop,
  offset: number,
  logs: LogFiles = NO_LOG_FILES,
): Completion[] {
  const { note } = analysis;
  if (
    note.frontMatter.present &&
    offset > note.frontMatter.range.from &&
    offset <= note.frontMatter.range.to
  ) {
    return completeFrontMatter(note, shop, offset);
  }
  const line = lineOf(note, offset);
  if (!line) return completeFence(note, offset, blockAt(note, offset) !== undefined);
  const start = line.placed.offset;
  const before = note.text.slice(start, offset);
  if (commentStart(before) < before.length) return [];
  const place = { analysis, shop, line, before, start, logs };
  switch (line.kind) {
    case "readings":
      return completeReading(place);
    case "series":
      return completeSeries(place);
    case "limits":
      return completeLimit(place);
    case "steps":
      return completeStep(place);
  }
}
