import { evaluateAll } from "../analysis/evaluation.ts";
import { EvaluationMemo } from "../analysis/evaluation-memo.ts";
import { collectNames } from "../analysis/scope.ts";
import type { Note } from "../note/note.ts";
import { type History, readHistory } from "../sequence/history.ts";
import type { Shop } from "../shop/shop.ts";
import type { Surroundings } from "./analyze.ts";

/** The steps of a note read against its procedure; undefined where the note names none that is known. */
export function historyOf(note: Note, shop: Shop, surroundings: Surroundings = {}): History | undefined {
  const id = note.frontMatter.fields.procedure;
  const procedure = id === undefined ? undefined : shop.procedures.get(id);
  if (!procedure) return undefined;
  const memo = surroundings.memo ?? new EvaluationMemo();
  const evaluation = evaluateAll(collectNames(note), shop, memo, surroundings.logs);
  return readHistory({ note, shop, evaluation, procedure });
}
