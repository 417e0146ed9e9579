import { type Mark, markedLines } from "../note/marked-lines.ts";
import type { Note, ReadingsBlock } from "../note/note.ts";
import type { Evaluated, Evaluation } from "./evaluation.ts";
import { keyUnder } from "./scope.ts";

/** What the readings lines that have a mark came to, in the order of the note. */
export function* evaluatedLines(note: Note, evaluation: Evaluation, mark: Mark): Iterable<Evaluated> {
  for (const { block, index } of markedLines(note, mark)) {
    const evaluated = block.kind === "readings" ? valueOfLine(block, index, evaluation) : undefined;
    if (evaluated) yield evaluated;
  }
}

/** What one line of a block came to. A name defined a second time has its value from the first line alone. */
export function valueOfLine(
  block: ReadingsBlock,
  index: number,
  evaluation: Evaluation,
): Evaluated | undefined {
  const syntax = block.content.trees[index];
  if (!syntax || !("name" in syntax) || !syntax.name) return undefined;
  const evaluated = evaluation.byKey.get(keyUnder(block.label, syntax.name.key));
  if (evaluated?.definition.block !== block) return undefined;
  const { body } = evaluated.definition;
  return body.kind === "line" && body.syntax === syntax ? evaluated : undefined;
}
