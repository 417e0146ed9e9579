import type { Connection } from "vscode-languageserver";
import type { Answering } from "./answering.ts";
import {
  type FindParams,
  type LookParams,
  type NewNoteParams,
  OWN,
  type ProceduresParams,
  type ShopParams,
  type SimilarParams,
} from "./own-messages.ts";

/** Answers what the editor's extension asks beyond the protocol. */
export function serveOwn(connection: Connection, { answer, later, heed }: Answering): void {
  connection.onRequest(
    OWN.procedures,
    answer("the procedures", [], (ask, params: ProceduresParams) => ask.own.procedures(params)),
  );
  connection.onRequest(
    OWN.newNote,
    answer("a new note", null, (ask, params: NewNoteParams) => ask.own.newNote(params)),
  );
  connection.onRequest(
    OWN.look,
    answer("a look at a note", null, (ask, params: LookParams) => ask.own.look(params)),
  );
  connection.onRequest(
    OWN.find,
    later("a search of the notes", null, (ask, params: FindParams, token) => ask.finding.find(params, token)),
  );
  connection.onRequest(
    OWN.similar,
    later("a search for similar jobs", null, (ask, params: SimilarParams, token) =>
      ask.finding.similar(params, token),
    ),
  );
  connection.onNotification(
    OWN.shop,
    heed("taking up a shop file", (to, params: ShopParams) => {
      to.own.shop(params);
      to.findings.filesChanged();
    }),
  );
}
