import { join } from "node:path";
import { pathToFileURL } from "node:url";
import {
  abilitiesOf,
  type ClientAbilities,
  initializeResult,
  RECORD_RESULTS,
  type StartOptions,
  startOptions,
} from "./capabilities.ts";
import { connect, endWith } from "./connection.ts";
import type { Features } from "./features.ts";
import { PendingChanges } from "./pending-changes.ts";
import { openTransport } from "./transport.ts";

/**
 * The language server as a process. Only the connection is loaded here: the checker itself is loaded after
 * the first reply, since an editor waits for that reply and not yet for a note.
 */
const pending = new PendingChanges();
const { reader, writer } = openTransport(process.argv);
const connection = connect(pending.watch(reader), writer);

let abilities: ClientAbilities = abilitiesOf({});
let options: StartOptions = {};
let loaded: Features | undefined;

function features(): Features {
  if (!loaded) {
    const module: typeof import("./features.ts") = require("./features.ts");
    const rulePages = options.rulePages ?? pathToFileURL(join(__dirname, "..", "grammar", "rules", "/")).href;
    const mayPull = abilities.pullsDiagnostics && options.diagnostics !== "push";
    loaded = new module.Features(connection, { abilities, rulePages, mayPull });
  }
  return loaded;
}

/** Every kind of change of `WatchKind` but a change of the content. */
const CREATE_OR_DELETE = 1 | 4;

process.on("uncaughtException", (fault) => connection.report("a task", fault));
process.on("unhandledRejection", (fault) => connection.report("a task", fault));

const start = (params: Parameters<typeof abilitiesOf>[0], handedOver: unknown) => {
  abilities = abilitiesOf(params);
  options = startOptions(handedOver);
  return initializeResult(abilities, options);
};

connection.onRequest(
  "initialize",
  () => start({}, undefined),
  ({ capabilities, initializationOptions, processId }) => {
    if (typeof processId === "number") endWith(processId);
    return start(capabilities, initializationOptions);
  },
);
connection.onNotification("initialized", () => {
  features();
  if (!abilities.watchesFiles) return;
  const watchers = [
    { globPattern: "**/shop.yaml" },
    // Pictures, logs and notes that links lead to.
    { globPattern: "**/*", kind: CREATE_OR_DELETE },
  ];
  connection
    .ask("client/registerCapability", {
      registrations: [
        { id: "files", method: "workspace/didChangeWatchedFiles", registerOptions: { watchers } },
      ],
    })
    .catch((fault: unknown) => connection.report("watching files", fault));
});

connection.onNotification("textDocument/didOpen", (params) => features().open(params));
connection.onNotification("textDocument/didChange", (params) => {
  const newerWaits = pending.take(params.textDocument.uri);
  features().change(params, newerWaits);
});
connection.onNotification("textDocument/didClose", (params) => features().close(params.textDocument.uri));
connection.onNotification("textDocument/didSave", () => features().filesChanged());
connection.onNotification("workspace/didChangeWatchedFiles", () => features().filesChanged());
connection.onNotification("workspace/didChangeConfiguration", () => undefined);

const none = () => [];
connection.onRequest("textDocument/inlayHint", none, (params) => features().hints(params));
connection.onRequest(
  "inlayHint/resolve",
  (hint) => hint,
  (hint) => features().resolveHint(hint),
);
connection.onRequest(
  "textDocument/hover",
  () => null,
  (params) => features().hover(params),
);
connection.onRequest("textDocument/completion", none, (params) => features().completion(params));
connection.onRequest("textDocument/codeAction", none, (params) => features().codeActions(params));
connection.onRequest(
  "textDocument/diagnostic",
  () => ({ kind: "full" as const, items: [] }),
  ({ textDocument }) => features().pull(textDocument.uri),
);
connection.onRequest(
  "workspace/executeCommand",
  () => false,
  ({ command, arguments: given }) =>
    command === RECORD_RESULTS ? features().recordResults(given?.[0]) : false,
);

connection.listen();
