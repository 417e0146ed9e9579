import { EXIT, type ExitStatus, type Outside } from "./outside.ts";

/** The ways in which an editor may talk to the server; the server's own library picks them from the arguments. */
export const TRANSPORTS = ["--stdio", "--node-ipc", "--socket", "--pipe"];

/** `witness-mark lsp`: starts the language server. It lives until the editor ends it, so there is no exit status. */
export function lsp(outside: Outside): ExitStatus | undefined {
  try {
    outside.startServer();
    return undefined;
  } catch (fault) {
    const message = fault instanceof Error ? (fault.message.split("\n", 1)[0] ?? "") : String(fault);
    outside.err(`The language server could not be started: ${message}.\n`);
    return EXIT.failed;
  }
}
