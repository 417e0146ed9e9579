import type { Connection } from "vscode-languageserver";
import { OWN } from "./own-messages.ts";

/** Notes that the server cannot read by itself, in a browser or on a virtual file system: the client hands them. */
export interface ClientNotes {
  /** Addresses of all markdown files in the open folders. */
  list(): Promise<readonly string[]>;
  /** Undefined for a file that is gone or cannot be read. */
  text(uri: string): Promise<string | undefined>;
}

export const clientNotes = (connection: Connection): ClientNotes => ({
  async list() {
    // A client that cannot tell has no notes to hand.
    const told: unknown = await connection.sendRequest(OWN.notes).catch(() => []);
    return Array.isArray(told) ? told.filter((uri) => typeof uri === "string") : [];
  },
  async text(uri) {
    const told: unknown = await connection.sendRequest(OWN.noteText, { uri }).catch(() => null);
    return typeof told === "string" ? told : undefined;
  },
});
