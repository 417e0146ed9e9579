import type { Procedure } from "../procedures/procedure.ts";

/** The built-in procedures, a bundle of their own that is loaded with the first note that is checked. */
export const lazyProcedures = (): readonly Procedure[] => {
  const loaded: typeof import("../procedures/load.ts") = require("./procedures.js");
  return loaded.builtInProcedures;
};
