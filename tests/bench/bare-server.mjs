// The baseline for the language server: the same protocol library with nothing behind it. It keeps the text
// in step and answers every change with an empty list of findings, and every question with nothing, so what it
// costs is the price of the protocol and of the process alone.
import {
  createConnection,
  ProposedFeatures,
  TextDocumentSyncKind,
  TextDocuments,
} from "vscode-languageserver/node";
import { TextDocument } from "vscode-languageserver-textdocument";

const connection = createConnection(ProposedFeatures.all);
const documents = new TextDocuments(TextDocument);

connection.onInitialize(() => ({
  capabilities: {
    textDocumentSync: TextDocumentSyncKind.Incremental,
    inlayHintProvider: true,
    hoverProvider: true,
    completionProvider: {},
  },
}));
connection.languages.inlayHint.on(() => []);
connection.onHover(() => null);
connection.onCompletion(() => []);
documents.onDidChangeContent(({ document }) => {
  connection.sendDiagnostics({ uri: document.uri, version: document.version, diagnostics: [] });
});
documents.listen(connection);
connection.listen();
