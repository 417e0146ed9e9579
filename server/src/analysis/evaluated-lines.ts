import type { ReadingsLine } from "../language/syntax.ts";
import type { Note } from "../note/note.ts";
import type { Evaluated, Evaluation } from "./evaluation.ts";
import { keyUnder } from "./scope.ts";

/**
 * What the lines that a test of their syntax picks came to, in the order of the note. `pick` gives the numbers of
 * lines in a block; it has to be a function that lasts, since its answers are kept with the block.
 */
export function* evaluatedLines(
  note: Note,
  evaluation: Evaluation,
  pick: (trees: readonly ReadingsLine[]) => readonly number[],
): Iterable<Evaluated> {
  for (const block of note.blocks) {
    if (block.kind !== "readings") continue;
    for (const index of block.content.once(pick)) {
      const syntax = block.content.trees[index];
      if (!syntax || !("name" in syntax) || !syntax.name) continue;
      const evaluated = evaluation.byKey.get(keyUnder(block.label, syntax.name.key));
      if (!evaluated) continue;
      const { body } = evaluated.definition;
      // A name defined a second time has its value from the first line alone.
      if (evaluated.definition.block === block && body.kind === "line" && body.syntax === syntax)
        yield evaluated;
    }
  }
}
