import { completeProcedure, type Procedure } from "./procedure.ts";
import { commonFile, procedureFiles } from "./procedures.generated.ts";

/** The procedures that come with the checker, in the order in which they are offered. */
export const builtInProcedures: readonly Procedure[] = procedureFiles.map((file) =>
  completeProcedure(file, commonFile),
);

const byId = new Map(builtInProcedures.map((procedure) => [procedure.id, procedure]));

/** The built-in procedure of this id, if there is one. */
export function builtInProcedure(id: string): Procedure | undefined {
  return byId.get(id);
}
