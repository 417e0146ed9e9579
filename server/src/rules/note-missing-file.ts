import type { Range } from "../note/note.ts";
import { type Report, type Rule, type RulePage, rangeOn } from "./rule.ts";

export const rule: Rule = {
  id: "note/missing-file",
  severity: "warning",
  why: "Whoever opens the note later, or on another machine, finds the evidence gone.",
  *check({ note, missing }): Iterable<Report> {
    if (missing.size === 0) return;
    for (const link of note.links) {
      if (missing.has(link.target)) yield report(link.range, link.target, link.picture ? "picture" : "file");
    }
    for (const block of note.blocks) {
      if (block.kind !== "series") continue;
      for (const placed of block.lines) {
        const { syntax } = placed;
        if (syntax.kind === "option" && syntax.key.key === "from" && missing.has(syntax.value.text)) {
          yield report(rangeOn(placed, syntax.value.span), syntax.value.text, "log");
        }
      }
    }
  },
};

const report = (range: Range, target: string, kind: string): Report => ({
  range,
  message: `The ${kind} \`${target}\` is not there.`,
  advice: "Put the file beside the note under this name, or correct the link. Upper and lower case count.",
});

export const page: RulePage = {
  title: "A file that is not there",
  means: "A picture, log or note that this note points to does not exist.",
  mend: "Put the file where the note looks for it, or correct the link.",
  breaks: { note: "![seam](photos/seam.jpg)\n", missing: ["photos/seam.jpg"] },
  keeps: { note: "![seam](photos/seam.jpg)\n" },
};
