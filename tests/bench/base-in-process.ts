import { readCondition } from "../../server/src/base/condition.ts";
import { WordIndex } from "../../server/src/base/word-index.ts";
import { openBase } from "../../server/src/cli/base/open-base.ts";
import { readLog } from "../../server/src/host/read-log.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";

/** Reads a folder once and gives what answers questions about it, as an editor would hold it. */
export async function loadBase(folder: string) {
  const opened = await openBase(["."], true, {
    err: (text) => process.stderr.write(text),
    folder,
    libraries: { yaml: readYaml, procedures: () => builtInProcedures, logs: readLog },
  });
  if (opened === undefined) throw new Error("The reading of the notes was stopped.");
  const { base } = opened;
  const index = new WordIndex(base.notes);
  return {
    answer(text: string): number {
      const reading = readCondition(text, base);
      if (!reading.ok) throw new Error(`${text}: ${reading.message}`);
      let found = 0;
      for (let i = 0; i < base.notes.length; i++) if (reading.condition.meets(i) !== undefined) found++;
      return found;
    },
    words: (text: string): number => index.search(text, { all: true }).length,
  };
}
