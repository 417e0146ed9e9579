import {
  type Connection,
  type ConnectionOptions,
  DidChangeTextDocumentNotification,
  DidChangeWatchedFilesNotification,
  DidCloseTextDocumentNotification,
  DidOpenTextDocumentNotification,
  ErrorCodes,
  FileChangeType,
  LSPErrorCodes,
  Message,
  ResponseError,
  TextDocuments,
  WatchKind,
} from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import { isMarkdownKey } from "./addresses.ts";
import { Answering } from "./answering.ts";
import {
  abilitiesOf,
  type ClientAbilities,
  INCREMENTAL,
  initializeResult,
  RECORD_RESULTS,
  type StartOptions,
  startOptions,
} from "./capabilities.ts";
import type { FeatureOptions, Features } from "./features.ts";
import { DEFAULTS, isRecord, settingsFrom } from "./own-messages.ts";
import { serveOwn } from "./serve-own.ts";

/**
 * The server's end of the protocol, whatever the channel. Only the protocol library is loaded here: the
 * checker itself is loaded after the first reply, since an editor waits for that reply and not yet for a note.
 */

export const CONNECTION_OPTIONS: ConnectionOptions = {
  connectionStrategy: {
    // A request that is cancelled while it waits its turn is answered without any work.
    cancelUndispatched(message) {
      if (!Message.isRequest(message)) return undefined;
      const error = { code: LSPErrorCodes.RequestCancelled, message: "Cancelled" };
      return { jsonrpc: message.jsonrpc, id: message.id, error };
    },
  },
};

/** Tells the editor's log of a fault of ours. */
export const reportTo =
  (connection: Connection) =>
  (what: string, fault: unknown): void => {
    const trace = fault instanceof Error ? (fault.stack ?? fault.message) : String(fault);
    connection.console.error(`Witness Mark could not finish ${what}: ${trace}`);
  };

/** Where the settings stand among those of other extensions. */
const SECTION = "witness-mark";

/** Loads the checker. */
export type Load = (documents: TextDocuments<TextDocument>, options: FeatureOptions) => Features;

/** `rulePages` is the folder with the rules' pages where the client names none. */
export function serve(connection: Connection, rulePages: string, load: Load): void {
  const report = reportTo(connection);
  const documents = new TextDocuments(TextDocument);

  let abilities: ClientAbilities = abilitiesOf({});
  let options: StartOptions = {};
  let loaded: Features | undefined;
  let folders: readonly string[] = [];
  let settings = DEFAULTS;

  function features(): Features {
    if (!loaded) {
      const mayPull = abilities.pullsDiagnostics && options.diagnostics !== "push";
      loaded = load(documents, {
        abilities,
        rulePages: options.rulePages ?? rulePages,
        mayPull,
        folders: () => folders,
        settings: () => settings,
        handsNotes: options.handsNotes === true,
      });
    }
    return loaded;
  }

  const answering = new Answering(features, report);
  const { answer, heed } = answering;

  connection.onInitialize(({ capabilities, initializationOptions, workspaceFolders, rootUri }) => {
    abilities = abilitiesOf(capabilities);
    options = startOptions(initializationOptions);
    settings = options.settings ?? DEFAULTS;
    folders = workspaceFolders?.map(({ uri }) => uri) ?? (rootUri ? [rootUri] : []);
    return initializeResult(abilities, options);
  });
  connection.onInitialized(
    heed("loading the checker", () => {
      if (abilities.changesFolders) {
        connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
          const gone = new Set(removed.map(({ uri }) => uri));
          folders = [...folders.filter((uri) => !gone.has(uri)), ...added.map(({ uri }) => uri)];
        });
      }
      if (abilities.tellsMoreTexts) followShopFiles();
      if (!abilities.watchesFiles) return;
      const watchers = [
        { globPattern: "**/shop.yaml" },
        { globPattern: "**/*.{csv,tsv,txt,log}" },
        // Notes that are not open, for what is asked of all notes.
        { globPattern: "**/*.{md,markdown}", kind: WatchKind.Change },
        // Pictures, logs and notes that links lead to.
        { globPattern: "**/*", kind: WatchKind.Create | WatchKind.Delete },
      ];
      connection.client
        .register(DidChangeWatchedFilesNotification.type, { watchers })
        .catch((fault: unknown) => report("watching files", fault));
    }),
  );
  /**
   * Asks to be told of shop files that are open, since notes are checked against what stands in the editor. Only
   * their text is asked for: their outline, format and the like are other extensions' business.
   */
  function followShopFiles(): void {
    const documentSelector = [{ pattern: "**/shop.yaml" }];
    for (const [type, more] of [
      [DidOpenTextDocumentNotification.type, {}],
      [DidChangeTextDocumentNotification.type, { syncKind: INCREMENTAL }],
      [DidCloseTextDocumentNotification.type, {}],
    ] as const) {
      connection.client
        .register(type, { documentSelector, ...more })
        .catch((fault: unknown) => report("following shop files", fault));
    }
  }

  connection.onShutdown(() => {
    answering.shutDown = true;
  });

  documents.onDidOpen(heed("opening a text", (to, { document }) => to.findings.opened(document)));
  documents.onDidChangeContent(
    heed("checking a text", (to, { document }) => {
      to.turns.typed();
      to.findings.changed(document);
    }),
  );
  documents.onDidClose(heed("closing a text", (to, { document }) => to.findings.closed(document)));
  documents.onDidSave(heed("saving a text", (to) => to.findings.filesChanged()));
  connection.onDidChangeWatchedFiles(
    heed("looking at the files", (to, { changes }) => {
      to.finding.filesChanged(changes);
      to.jobNotes.filesChanged(changes);
      // What another note says counts for no finding; that it is there does, since links lead to it.
      const counts = changes.some(({ uri, type }) => type !== FileChangeType.Changed || !isMarkdownKey(uri));
      if (counts) to.findings.filesChanged();
    }),
  );
  const take = (given: unknown): void => {
    const before = settings;
    settings = settingsFrom(given);
    if (before.hints !== settings.hints || before.information !== settings.information)
      heed("taking up the settings", (to) => to.findings.filesChanged())(undefined);
  };
  connection.onDidChangeConfiguration(({ settings: sent }) => {
    // Some clients send the settings along, others only say that there are new ones.
    if (isRecord(sent) && SECTION in sent) take(sent[SECTION]);
    else if (abilities.tellsSettings)
      connection.workspace
        .getConfiguration(SECTION)
        .then(take)
        .catch((fault: unknown) => report("asking for the settings", fault));
  });

  connection.onHover((params, token) =>
    answer("a hover", null, (ask) => ask.comebacks.hover(params, token) ?? ask.viewing.hover(params))(params),
  );
  connection.onCompletion(answer("a completion", null, (ask, params) => ask.writing.completion(params)));
  connection.onCompletionResolve((item) =>
    answer("a completion", item, (ask) => ask.writing.resolveCompletion(item))(item),
  );
  connection.onCodeAction(answer("the code actions", null, (ask, params) => ask.writing.codeActions(params)));
  connection.languages.inlayHint.on(
    answer("the inlay hints", null, (ask, params) => ask.viewing.hints(params)),
  );
  connection.languages.inlayHint.resolve((hint) =>
    answer("a hint's working", hint, (ask) => ask.viewing.resolveHint(hint))(hint),
  );
  connection.languages.diagnostics.on(
    answer("the findings", { kind: "full" as const, items: [] }, (ask, params) => ask.findings.pull(params)),
  );
  connection.languages.diagnostics.onWorkspace((params, token) =>
    answer("the findings of all notes", { items: [] }, (ask) => ask.workspaceFindings.pull(params, token))(
      params,
    ),
  );
  connection.onSignatureHelp(
    answer("a function's signature", null, (ask, p) => ask.writing.signatureHelp(p)),
  );
  connection.onDefinition((params, token) =>
    answer(
      "a definition",
      null,
      (ask) => ask.comebacks.definition(params, token) ?? ask.navigating.definition(params),
    )(params),
  );
  connection.onReferences(answer("the references", null, (ask, p) => ask.navigating.references(p)));
  connection.onDocumentHighlight(answer("the highlights", null, (ask, p) => ask.navigating.highlights(p)));
  connection.onPrepareRename(answer("a new name", null, (ask, p) => ask.navigating.prepareRename(p)));
  connection.onRenameRequest(
    answer("a new name", null, (ask, params) => {
      const renamed = ask.navigating.rename(params);
      if (renamed === null || !("refused" in renamed)) return renamed;
      return new ResponseError<never>(ErrorCodes.InvalidRequest, renamed.refused);
    }),
  );
  connection.onDocumentSymbol(answer("the outline", null, (ask, p) => ask.viewing.symbols(p)));
  connection.onWorkspaceSymbol((params, token) =>
    answer("a search for names", null, (ask) => ask.workspaceSymbols.find(params.query, token))(params),
  );
  connection.workspace.onWillRenameFiles(
    answer("the links to moved files", null, (ask, p) => ask.moving.willRename(p)),
  );
  connection.onFoldingRanges(answer("the folds", null, (ask, p) => ask.viewing.folds(p)));
  connection.onSelectionRanges(answer("a wider selection", null, (ask, p) => ask.viewing.selectionRanges(p)));
  connection.onCodeLens(answer("what is done and to do", null, (ask, p) => ask.viewing.lenses(p)));
  connection.onCodeLensResolve((lens) =>
    answer("what is done and to do", lens, (ask) => ask.viewing.resolveLens(lens))(lens),
  );
  connection.onDocumentLinks(
    answer("the links", null, (ask, p) => [
      ...ask.viewing.links(p),
      ...ask.comebacks.links(p.textDocument.uri),
    ]),
  );
  connection.onDocumentLinkResolve((link, token) =>
    answer("where a link leads", link, (ask) => ask.comebacks.resolveLink(link, token))(link),
  );
  connection.languages.semanticTokens.on(
    answer("the colours", { data: [] }, (ask, p) => ask.viewing.tokens(p)),
  );
  connection.languages.semanticTokens.onRange(
    answer("the colours", { data: [] }, (ask, p) => ask.viewing.tokensIn(p)),
  );
  serveOwn(connection, answering);
  connection.onDocumentFormatting(answer("the formatting", null, (ask, p) => ask.writing.format(p)));
  connection.onDocumentRangeFormatting(
    answer("the formatting", null, (ask, p) => ask.writing.formatRange(p)),
  );
  connection.onDocumentOnTypeFormatting(
    answer("the formatting", null, (ask, p) => ask.writing.formatOnType(p)),
  );
  connection.onExecuteCommand(
    answer("a command", null, (ask, { command, arguments: given }) =>
      command === RECORD_RESULTS ? ask.writing.recordResults(given?.[0]) : null,
    ),
  );

  documents.listen(connection);
  connection.listen();
}
