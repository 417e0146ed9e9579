import type { YamlReader } from "../note/yaml-tree.ts";
import type { Procedure } from "../procedures/procedure.ts";
import { lazyBase } from "./lazy-base.ts";
import { type LogReader, lazyLogs } from "./lazy-logs.ts";
import { lazyProcedures } from "./lazy-procedures.ts";
import { lazyReporting, type Reporting } from "./lazy-reporting.ts";
import { lazyYaml } from "./lazy-yaml.ts";

/** What checking needs besides the core, each loaded when it is first used. */
export interface Libraries {
  readonly yaml: YamlReader;
  readonly procedures: () => readonly Procedure[];
  readonly logs: LogReader;
}

/** Finding among many notes. */
export type BaseLibrary = typeof import("../base/live.ts");

/** What the language server needs on top. */
export interface ServerLibraries extends Libraries {
  readonly base: () => BaseLibrary;
}

/** What the command line needs on top. */
export interface CommandLibraries extends Libraries {
  readonly reporting: () => Reporting;
}

export const lazyLibraries: CommandLibraries & ServerLibraries = {
  yaml: lazyYaml,
  procedures: lazyProcedures,
  logs: lazyLogs,
  reporting: lazyReporting,
  base: () => lazyBase().live,
};
