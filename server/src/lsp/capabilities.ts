import type { ClientCapabilities, InitializeResult } from "vscode-languageserver/node";
import { version } from "../../../package.json";
import { ACTION_KINDS } from "../ide/action-kinds.ts";
import { type Settings, settingsFrom } from "./own-messages.ts";
import { TOKEN_LEGEND } from "./token-legend.ts";

/** Works like the code action of the same name, for clients that start it from a command. Takes a URI. */
export const RECORD_RESULTS = "witness-mark.server.recordResults";

/** Characters after which editors ask again, since VS Code keeps suggestions off in markdown. */
const TRIGGERS = [" ", "[", ":", "(", ",", "`", "~"];

/** `TextDocumentSyncKind.Incremental` of the protocol. */
export const INCREMENTAL = 2;

/** What a client may hand over when it starts the server. */
export interface StartOptions {
  /** URI of the folder with the rules' pages, when they are not beside the server. */
  readonly rulePages?: string;
  /** `push` keeps a client that can pull from doing so: then one keystroke needs one message less. */
  readonly diagnostics?: "push";
  /** The client hands over notes that the server cannot read by itself, when it is asked. */
  readonly handsNotes?: boolean;
  /** For clients that do not send them later on. */
  readonly settings?: Settings;
}

export function startOptions(handedOver: unknown): StartOptions {
  if (typeof handedOver !== "object" || handedOver === null) return {};
  const rulePages = "rulePages" in handedOver ? handedOver.rulePages : undefined;
  const diagnostics = "diagnostics" in handedOver ? handedOver.diagnostics : undefined;
  const handsNotes = "handsNotes" in handedOver && handedOver.handsNotes === true;
  const settings = "settings" in handedOver ? settingsFrom(handedOver.settings) : undefined;
  return {
    ...(typeof rulePages === "string" ? { rulePages: rulePages.replace(/\/?$/, "/") } : {}),
    ...(diagnostics === "push" ? { diagnostics } : {}),
    ...(handsNotes ? { handsNotes } : {}),
    ...(settings ? { settings } : {}),
  };
}

/** What this client can do, as far as it changes our replies. */
export interface ClientAbilities {
  readonly markdown: boolean;
  readonly markdownInCompletion: boolean;
  readonly relatedInformation: boolean;
  readonly versionedEdits: boolean;
  readonly pullsDiagnostics: boolean;
  readonly refreshesHints: boolean;
  /** Lets a click on a hint lead to a place. */
  readonly followsHints: boolean;
  readonly refreshesDiagnostics: boolean;
  readonly watchesFiles: boolean;
  /** Tells about more texts than its own settings name, when it is asked to. */
  readonly tellsMoreTexts: boolean;
  /** Takes the range of the name that was asked about together with the definition. */
  readonly definitionLinks: boolean;
  readonly changesFolders: boolean;
  /** Takes one range for all the items of a completion. */
  readonly sharesEditRange: boolean;
  /** Shows progress that the server begins. */
  readonly showsProgress: boolean;
  /** Can be asked for its settings. */
  readonly tellsSettings: boolean;
}

export function abilitiesOf(client: ClientCapabilities): ClientAbilities {
  const { textDocument, workspace, window } = client;
  return {
    markdown: textDocument?.hover?.contentFormat?.includes("markdown") ?? false,
    markdownInCompletion:
      textDocument?.completion?.completionItem?.documentationFormat?.includes("markdown") ?? false,
    relatedInformation: textDocument?.publishDiagnostics?.relatedInformation ?? false,
    versionedEdits: workspace?.workspaceEdit?.documentChanges ?? false,
    pullsDiagnostics: textDocument?.diagnostic !== undefined,
    refreshesHints: workspace?.inlayHint?.refreshSupport ?? false,
    followsHints: textDocument?.inlayHint?.resolveSupport?.properties.includes("label.location") ?? false,
    refreshesDiagnostics: workspace?.diagnostics?.refreshSupport ?? false,
    sharesEditRange: textDocument?.completion?.completionList?.itemDefaults?.includes("editRange") ?? false,
    changesFolders: workspace?.workspaceFolders ?? false,
    showsProgress: window?.workDoneProgress ?? false,
    tellsSettings: workspace?.configuration ?? false,
    definitionLinks: textDocument?.definition?.linkSupport ?? false,
    tellsMoreTexts: textDocument?.synchronization?.dynamicRegistration ?? false,
    watchesFiles: workspace?.didChangeWatchedFiles?.dynamicRegistration ?? false,
  };
}

export function initializeResult(abilities: ClientAbilities, options: StartOptions): InitializeResult {
  const pull = abilities.pullsDiagnostics && options.diagnostics !== "push";
  return {
    serverInfo: { name: "Witness Mark", version },
    capabilities: {
      positionEncoding: "utf-16",
      textDocumentSync: { openClose: true, change: INCREMENTAL, save: true },
      inlayHintProvider: { resolveProvider: true },
      hoverProvider: true,
      completionProvider: { triggerCharacters: TRIGGERS, resolveProvider: true },
      signatureHelpProvider: { triggerCharacters: ["(", ","], retriggerCharacters: [")", ":"] },
      definitionProvider: true,
      referencesProvider: true,
      documentHighlightProvider: true,
      renameProvider: { prepareProvider: true },
      documentSymbolProvider: true,
      workspaceSymbolProvider: true,
      workspace: {
        workspaceFolders: { supported: true, changeNotifications: true },
        fileOperations: { willRename: { filters: [{ scheme: "file", pattern: { glob: "**/*" } }] } },
      },
      foldingRangeProvider: true,
      selectionRangeProvider: true,
      documentLinkProvider: { resolveProvider: true },
      codeLensProvider: { resolveProvider: true },
      semanticTokensProvider: { legend: TOKEN_LEGEND, full: true, range: true },
      documentFormattingProvider: true,
      documentRangeFormattingProvider: true,
      documentOnTypeFormattingProvider: { firstTriggerCharacter: "\n" },
      codeActionProvider: { codeActionKinds: Object.values(ACTION_KINDS) },
      executeCommandProvider: { commands: [RECORD_RESULTS] },
      ...(pull
        ? {
            diagnosticProvider: {
              identifier: "witness-mark",
              interFileDependencies: false,
              workspaceDiagnostics: true,
            },
          }
        : {}),
    },
  };
}
