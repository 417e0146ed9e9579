import type { Fix } from "../analysis/analysis.ts";
import type { JobOutcome } from "../procedures/procedure.ts";
import type { History } from "../sequence/history.ts";
import { editsFor, planFor } from "../sequence/mend.ts";

/** Writes the steps that are missing as still to do. Worked out only when somebody asks for it. */
export function appendFix(history: History, outcome: JobOutcome): readonly Fix[] {
  return [
    {
      title: "Write down the steps that put it right, as still to do",
      kind: "choice",
      get edits() {
        return editsFor(planFor(history, outcome), history);
      },
    },
  ];
}
