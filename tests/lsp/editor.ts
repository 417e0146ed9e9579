import { type ChildProcess, spawn } from "node:child_process";
import { join } from "node:path";
import type * as lsp from "vscode-languageserver/node";
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-languageserver/node";
import { TextDocument } from "vscode-languageserver-textdocument";

/** What a modern editor says it can do. */
const CAPABILITIES: lsp.ClientCapabilities = {
  workspace: {
    workspaceEdit: { documentChanges: true },
    applyEdit: true,
    didChangeWatchedFiles: { dynamicRegistration: true },
    inlayHint: { refreshSupport: true },
  },
  textDocument: {
    hover: { contentFormat: ["markdown", "plaintext"] },
    completion: { completionItem: { documentationFormat: ["markdown", "plaintext"] } },
    publishDiagnostics: { relatedInformation: true, versionSupport: true },
    codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: ["quickfix", "source"] } } },
    inlayHint: { resolveSupport: { properties: ["tooltip"] } },
  },
};

interface StartWith {
  /** Where the bundles are. */
  readonly folder: string;
  /** Bundle and arguments. */
  readonly command?: readonly string[];
  readonly capabilities?: lsp.ClientCapabilities;
  readonly initializationOptions?: unknown;
  /** URIs of the folders that are open. */
  readonly folders?: readonly string[];
}

/** An editor as far as the protocol sees it: keeps texts, sends changes, waits for findings. */
export class Editor {
  readonly #texts = new Map<string, TextDocument>();
  readonly #published = new Map<string, lsp.PublishDiagnosticsParams[]>();
  readonly #waiting = new Set<() => void>();
  readonly log: string[] = [];
  readonly registrations: lsp.Registration[] = [];
  applyEdits = true;
  exitCode: Promise<number | null>;

  private constructor(
    readonly process: ChildProcess,
    readonly connection: MessageConnection,
    readonly initialized: lsp.InitializeResult,
  ) {
    this.exitCode = new Promise((resolve) => process.once("exit", resolve));
  }

  static async start({
    folder,
    command = ["server.js", "--stdio"],
    capabilities = CAPABILITIES,
    initializationOptions,
    folders = [],
  }: StartWith): Promise<Editor> {
    const [bundle = "", ...given] = command;
    const child = spawn(process.execPath, [join(folder, bundle), ...given], {
      stdio: ["pipe", "pipe", "inherit"],
    });
    const connection = createMessageConnection(
      new StreamMessageReader(child.stdout),
      new StreamMessageWriter(child.stdin),
    );
    connection.listen();
    const workspaceFolders = folders.map((uri) => ({ uri, name: uri }));
    const params = {
      processId: process.pid,
      rootUri: null,
      capabilities,
      initializationOptions,
      workspaceFolders,
    };
    const result: lsp.InitializeResult = await connection.sendRequest("initialize", params);
    const editor = new Editor(child, connection, result);
    connection.onNotification(
      "textDocument/publishDiagnostics",
      (published: lsp.PublishDiagnosticsParams) => {
        editor.#published.set(published.uri, [...(editor.#published.get(published.uri) ?? []), published]);
        for (const wake of editor.#waiting) wake();
      },
    );
    connection.onNotification("window/logMessage", ({ message }: lsp.LogMessageParams) => {
      editor.log.push(message);
    });
    connection.onRequest("client/registerCapability", ({ registrations }: lsp.RegistrationParams) => {
      editor.registrations.push(...registrations);
      return null;
    });
    connection.onRequest("workspace/inlayHint/refresh", () => null);
    connection.onRequest("workspace/applyEdit", ({ edit }: lsp.ApplyWorkspaceEditParams) => {
      if (editor.applyEdits) editor.apply(edit);
      return { applied: editor.applyEdits };
    });
    await connection.sendNotification("initialized", {});
    return editor;
  }

  async stop(): Promise<number | null> {
    await this.connection.sendRequest("shutdown");
    await this.connection.sendNotification("exit");
    return this.exitCode;
  }

  // ---- Texts --------------------------------------------------------------------------------------

  open(uri: string, text: string, languageId = "markdown"): Promise<lsp.Diagnostic[]> {
    const document = TextDocument.create(uri, languageId, 1, text);
    this.#texts.set(uri, document);
    const textDocument = { uri, languageId, version: 1, text };
    void this.connection.sendNotification("textDocument/didOpen", { textDocument });
    return this.findings(uri);
  }

  text(uri: string): string {
    return this.#document(uri).getText();
  }

  #document(uri: string): TextDocument {
    const document = this.#texts.get(uri);
    if (!document) throw new Error(`${uri} is not open`);
    return document;
  }

  /** Sends changes as one message; a change without `range` replaces the whole text. */
  change(uri: string, ...contentChanges: lsp.TextDocumentContentChangeEvent[]): void {
    const document = this.#document(uri);
    const version = document.version + 1;
    this.#texts.set(uri, TextDocument.update(document, contentChanges, version));
    void this.connection.sendNotification("textDocument/didChange", {
      textDocument: { uri, version },
      contentChanges,
    });
  }

  /** Types `text` in place of the first `old`. */
  replace(uri: string, old: string, text: string): void {
    const document = this.#document(uri);
    const at = document.getText().indexOf(old);
    if (at < 0) throw new Error(`"${old}" is not in ${uri}`);
    const range = { start: document.positionAt(at), end: document.positionAt(at + old.length) };
    this.change(uri, { range, text });
  }

  apply(edit: lsp.WorkspaceEdit): void {
    for (const change of edit.documentChanges ?? []) {
      if (!("textDocument" in change)) throw new Error("only text edits are expected");
      const { uri, version } = change.textDocument;
      const document = this.#document(uri);
      if (version !== document.version) throw new Error(`an edit for version ${version} of ${uri}`);
      const edits = change.edits.map((e) => {
        if (!("newText" in e)) throw new Error("snippets are not expected");
        return e;
      });
      this.change(uri, { text: TextDocument.applyEdits(document, edits) });
    }
  }

  close(uri: string): void {
    this.#texts.delete(uri);
    void this.connection.sendNotification("textDocument/didClose", { textDocument: { uri } });
  }

  positionOf(uri: string, part: string, after = 0): lsp.Position {
    const document = this.#document(uri);
    const at = document.getText().indexOf(part);
    if (at < 0) throw new Error(`"${part}" is not in ${uri}`);
    return document.positionAt(at + after);
  }

  // ---- Questions ----------------------------------------------------------------------------------

  /** The findings published for the text as it now is. */
  async findings(uri: string): Promise<lsp.Diagnostic[]> {
    const { version } = this.#document(uri);
    for (;;) {
      const last = this.published(uri).findLast((p) => p.version === version);
      if (last) return last.diagnostics;
      await this.nextPublish();
    }
  }

  published(uri: string): readonly lsp.PublishDiagnosticsParams[] {
    return this.#published.get(uri) ?? [];
  }

  nextPublish(): Promise<void> {
    return new Promise((resolve) => {
      const wake = (): void => {
        this.#waiting.delete(wake);
        resolve();
      };
      this.#waiting.add(wake);
    });
  }

  hints(uri: string): Promise<lsp.InlayHint[]> {
    const document = this.#document(uri);
    const range = { start: { line: 0, character: 0 }, end: document.positionAt(document.getText().length) };
    return this.connection.sendRequest("textDocument/inlayHint", { textDocument: { uri }, range });
  }

  hover(uri: string, position: lsp.Position): Promise<lsp.Hover | null> {
    return this.connection.sendRequest("textDocument/hover", { textDocument: { uri }, position });
  }

  completion(uri: string, position: lsp.Position): Promise<lsp.CompletionItem[]> {
    return this.connection.sendRequest("textDocument/completion", { textDocument: { uri }, position });
  }

  actions(uri: string, range: lsp.Range, only?: string[]): Promise<lsp.CodeAction[]> {
    const context = { diagnostics: [], ...(only ? { only } : {}) };
    return this.connection.sendRequest("textDocument/codeAction", { textDocument: { uri }, range, context });
  }
}

export const markdownOf = (hover: lsp.Hover | null): string => {
  if (!hover || typeof hover.contents === "string" || Array.isArray(hover.contents)) return "";
  return hover.contents.value;
};

/** Newer versions of the protocol also allow markup here; this server sends plain text. */
export const messageOf = ({ message }: lsp.Diagnostic): string =>
  typeof message === "string" ? message : message.value;
