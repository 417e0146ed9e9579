import type { Checked, Totals } from "../report/checked.ts";
import { jsonNote, jsonPieces } from "../report/json.ts";
import { readableFindings, readableSummary } from "../report/readable.ts";
import { valuesTable } from "../report/values-table.ts";
import { type Outside, styleFor } from "./outside.ts";

export interface CheckOptions {
  readonly format: "readable" | "json";
  /** Readable only: errors alone, without a summary. */
  readonly quiet: boolean;
  /** Readable only: derived values too. The JSON always has all values. */
  readonly values: boolean;
}

/** Takes results as they come, so that no more than one note is held in memory. */
export interface Reporter {
  file(checked: Checked): void;
  end(totals: Totals): void;
}

export function reporterFor(options: CheckOptions, outside: Outside): Reporter {
  return options.format === "json" ? jsonReporter(outside) : readableReporter(options, outside);
}

function jsonReporter({ out }: Outside): Reporter {
  const write = gathering(out);
  let first = true;
  write(jsonPieces.head);
  return {
    file(checked) {
      write(jsonPieces.note(jsonNote(checked), first));
      first = false;
    },
    end(totals) {
      write(jsonPieces.tail(totals));
      write.flush();
    },
  };
}

function readableReporter(options: CheckOptions, outside: Outside): Reporter {
  const style = styleFor(outside);
  const write = gathering(outside.out);
  return {
    file(checked) {
      if (options.values) write(valuesTable(checked, style));
      write(readableFindings(checked, style, options.quiet ? "error" : undefined));
    },
    end(totals) {
      if (!options.quiet) write(readableSummary(totals));
      write.flush();
    },
  };
}

const PIECE = 64 * 1024;

/** Puts small texts together before they are written, since each write is a call to the system. */
function gathering(out: (text: string) => void): { (text: string): void; flush(): void } {
  let waiting = "";
  const flush = (): void => {
    if (waiting !== "") out(waiting);
    waiting = "";
  };
  const write = (text: string): void => {
    waiting += text;
    if (waiting.length >= PIECE) flush();
  };
  return Object.assign(write, { flush });
}
