import type { Analysis } from "../../analysis/analysis.ts";
import type { Block } from "../../note/note.ts";
import type { Html } from "./html.ts";
import { limitsTable } from "./limits-table.ts";
import { readingsTable } from "./readings-table.ts";
import { seriesSheet } from "./series-sheet.ts";
import { stepsTimeline } from "./steps-timeline.ts";

/** A block as the sheet shows it. */
export function blockSheet(analysis: Analysis, block: Block): Html {
  switch (block.kind) {
    case "readings":
      return readingsTable(analysis, block);
    case "series":
      return seriesSheet(analysis, block);
    case "limits":
      return limitsTable(analysis, block);
    case "steps":
      return stepsTimeline(analysis, block);
  }
}
