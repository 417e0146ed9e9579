import pc from "picocolors";
import type { YamlReader } from "../note/yaml-tree.ts";
import type { Style } from "../report/readable.ts";

/** All that the command line takes from the world around it, so that a test can stand in for it. */
export interface Outside {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** The folder that the command was started in. */
  readonly folder: string;
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** Undefined where the output is no terminal. */
  readonly terminal: { readonly columns: number } | undefined;
  readonly yaml: YamlReader;
  /** Hands the process over to the language server. */
  readonly startServer: () => void;
}

/** Exit status of the process; fixed, since scripts rely on it. */
export const EXIT = {
  /** All went well and no note has an error. */
  clear: 0,
  /** At least one finding of severity error. */
  errors: 1,
  /** The command could not do its work. */
  failed: 2,
} as const;

export type ExitStatus = (typeof EXIT)[keyof typeof EXIT];

const NARROWEST = 40;
const WIDEST = 120;

/**
 * Emphasis only on a terminal, unless the conventions NO_COLOR (https://no-color.org) and FORCE_COLOR
 * (https://force-color.org) say otherwise; of both, NO_COLOR wins. An output that is kept in a file always
 * has the same width, so that two runs can be compared.
 */
export function styleFor({ environment, terminal }: Pick<Outside, "environment" | "terminal">): Style {
  const { NO_COLOR, FORCE_COLOR, TERM } = environment;
  const emphasis = NO_COLOR
    ? false
    : FORCE_COLOR
      ? FORCE_COLOR !== "0"
      : terminal !== undefined && TERM !== "dumb";
  const { bold, underline } = pc.createColors(emphasis);
  const width = terminal === undefined ? 100 : Math.max(NARROWEST, Math.min(terminal.columns, WIDEST));
  return { width, bold, underline };
}
