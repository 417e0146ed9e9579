import { markedLines } from "../note/marked-lines.ts";
import { logOptions } from "../note/series-log.ts";
import type { Report, Subject } from "./rule.ts";

/** What is wrong with the logs that series take their rows from, and with how they ask for them. */
export function* logReports({ note, logs }: Subject): Iterable<Report> {
  const blocks = new Set(markedLines(note, "option").map(({ block }) => block));
  for (const block of blocks) {
    if (block.kind !== "series") continue;
    const { request, problems } = logOptions(block);
    yield* problems;
    const reading = request && logs.get(request.key);
    if (!reading || !request) continue;
    // A file that is not there is reported by its own rule.
    if (!reading.ok) {
      if (!reading.missing)
        yield { range: request.pathRange, message: reading.message, advice: reading.advice };
      continue;
    }
    for (const problem of reading.problems) yield { range: request.pathRange, ...problem };
  }
}
