import { join } from "node:path";
import { pathToFileURL } from "node:url";
import {
  createConnection,
  DidChangeWatchedFilesNotification,
  ErrorCodes,
  LSPErrorCodes,
  Message,
  ResponseError,
  TextDocuments,
  WatchKind,
} from "vscode-languageserver/node";
import { TextDocument } from "vscode-languageserver-textdocument";
import { lazyChecker } from "../host/lazy-checker.ts";
import {
  abilitiesOf,
  type ClientAbilities,
  initializeResult,
  RECORD_RESULTS,
  type StartOptions,
  startOptions,
} from "./capabilities.ts";
import type { Features } from "./features.ts";

/**
 * The language server as a process. Only the protocol library is loaded here: the checker itself is loaded
 * after the first reply, since an editor waits for that reply and not yet for a note.
 */
const connection = createConnection({
  connectionStrategy: {
    // A request that is cancelled while it waits its turn is answered without any work.
    cancelUndispatched(message) {
      if (!Message.isRequest(message)) return undefined;
      const error = { code: LSPErrorCodes.RequestCancelled, message: "Cancelled" };
      return { jsonrpc: message.jsonrpc, id: message.id, error };
    },
  },
});
const documents = new TextDocuments(TextDocument);

let abilities: ClientAbilities = abilitiesOf({});
let options: StartOptions = {};
let loaded: Features | undefined;
let shutDown = false;

function features(): Features {
  if (!loaded) {
    const { Features } = lazyChecker();
    const rulePages = options.rulePages ?? pathToFileURL(join(__dirname, "..", "grammar", "rules", "/")).href;
    const mayPull = abilities.pullsDiagnostics && options.diagnostics !== "push";
    loaded = new Features(connection, documents, { abilities, rulePages, mayPull });
  }
  return loaded;
}

function report(what: string, fault: unknown): void {
  const trace = fault instanceof Error ? (fault.stack ?? fault.message) : String(fault);
  connection.console.error(`Witness Mark could not finish ${what}: ${trace}`);
}
process.on("uncaughtException", (fault) => report("a task", fault));
process.on("unhandledRejection", (fault) => report("a task", fault));

/** A request's handler that answers with `otherwise` when the work fails by a fault of ours. */
function answer<P, R, O>(what: string, otherwise: O, work: (features: Features, params: P) => R) {
  return (params: P): R | O | ResponseError<never> => {
    if (shutDown)
      return new ResponseError<never>(ErrorCodes.InvalidRequest, "The server has been shut down.");
    try {
      return work(features(), params);
    } catch (fault) {
      report(what, fault);
      return otherwise;
    }
  };
}

/** The same for what an editor tells without waiting for a reply. */
function heed<P>(what: string, work: (features: Features, params: P) => void) {
  return (params: P): void => {
    try {
      work(features(), params);
    } catch (fault) {
      report(what, fault);
    }
  };
}

connection.onInitialize(({ capabilities, initializationOptions }) => {
  abilities = abilitiesOf(capabilities);
  options = startOptions(initializationOptions);
  return initializeResult(abilities, options);
});
connection.onInitialized(
  heed("loading the checker", () => {
    if (!abilities.watchesFiles) return;
    const watchers = [
      { globPattern: "**/shop.yaml" },
      { globPattern: "**/*.{csv,tsv,txt,log}" },
      // Pictures, logs and notes that links lead to.
      { globPattern: "**/*", kind: WatchKind.Create | WatchKind.Delete },
    ];
    connection.client
      .register(DidChangeWatchedFilesNotification.type, { watchers })
      .catch((fault: unknown) => report("watching files", fault));
  }),
);
connection.onShutdown(() => {
  shutDown = true;
});

documents.onDidOpen(heed("opening a text", (to, { document }) => to.opened(document)));
documents.onDidChangeContent(heed("checking a text", (to, { document }) => to.changed(document)));
documents.onDidClose(heed("closing a text", (to, { document }) => to.closed(document)));
documents.onDidSave(heed("saving a text", (to) => to.filesChanged()));
connection.onDidChangeWatchedFiles(heed("looking at the files", (to) => to.filesChanged()));
connection.onDidChangeConfiguration(() => undefined);

connection.onHover(answer("a hover", null, (ask, params) => ask.hover(params)));
connection.onCompletion(answer("a completion", null, (ask, params) => ask.completion(params)));
connection.onCodeAction(answer("the code actions", null, (ask, params) => ask.codeActions(params)));
connection.languages.inlayHint.on(answer("the inlay hints", null, (ask, params) => ask.hints(params)));
connection.languages.inlayHint.resolve((hint) =>
  answer("a hint's working", hint, (ask) => ask.resolveHint(hint))(hint),
);
connection.languages.diagnostics.on(
  answer("the findings", { kind: "full" as const, items: [] }, (ask, params) => ask.pull(params)),
);
connection.onExecuteCommand(
  answer("a command", null, (ask, { command, arguments: given }) =>
    command === RECORD_RESULTS ? ask.recordResults(given?.[0]) : null,
  ),
);

documents.listen(connection);
connection.listen();
