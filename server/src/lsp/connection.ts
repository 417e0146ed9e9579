import {
  createMessageConnection,
  ErrorCodes,
  Message,
  type MessageReader,
  type MessageWriter,
  ResponseError,
  type ResponseMessage,
} from "vscode-jsonrpc/node";
import type * as lsp from "vscode-languageserver-protocol";

/**
 * The protocol over the JSON-RPC library, with only the messages that this server knows. The full server
 * library brings every feature of the protocol along, which is a third of the bundle and of the start; its types
 * are used here, and they are free.
 */
interface RequestsIn {
  initialize: [lsp.InitializeParams, lsp.InitializeResult];
  shutdown: [undefined, null];
  "textDocument/inlayHint": [lsp.InlayHintParams, lsp.InlayHint[]];
  "inlayHint/resolve": [lsp.InlayHint, lsp.InlayHint];
  "textDocument/hover": [lsp.HoverParams, lsp.Hover | null];
  "textDocument/completion": [lsp.CompletionParams, lsp.CompletionItem[]];
  "textDocument/codeAction": [lsp.CodeActionParams, lsp.CodeAction[]];
  "textDocument/diagnostic": [lsp.DocumentDiagnosticParams, lsp.DocumentDiagnosticReport];
  "workspace/executeCommand": [lsp.ExecuteCommandParams, unknown];
}

interface NotificationsIn {
  initialized: lsp.InitializedParams;
  exit: undefined;
  "textDocument/didOpen": lsp.DidOpenTextDocumentParams;
  "textDocument/didChange": lsp.DidChangeTextDocumentParams;
  "textDocument/didClose": lsp.DidCloseTextDocumentParams;
  "textDocument/didSave": lsp.DidSaveTextDocumentParams;
  "workspace/didChangeWatchedFiles": lsp.DidChangeWatchedFilesParams;
  "workspace/didChangeConfiguration": lsp.DidChangeConfigurationParams;
}

interface RequestsOut {
  "client/registerCapability": [lsp.RegistrationParams, null];
  "workspace/applyEdit": [lsp.ApplyWorkspaceEditParams, lsp.ApplyWorkspaceEditResult];
  "workspace/inlayHint/refresh": [undefined, null];
  "workspace/diagnostic/refresh": [undefined, null];
}

interface NotificationsOut {
  "textDocument/publishDiagnostics": lsp.PublishDiagnosticsParams;
  "window/logMessage": lsp.LogMessageParams;
}

/** The client as the features see it. */
export interface Client {
  tell<M extends keyof NotificationsOut>(method: M, params: NotificationsOut[M]): void;
  ask<M extends keyof RequestsOut>(method: M, params: RequestsOut[M][0]): Promise<RequestsOut[M][1]>;
}

export interface Connection extends Client {
  /** Handles a request; `otherwise` is the answer when the work fails by a fault of ours. */
  onRequest<M extends keyof RequestsIn>(
    method: M,
    otherwise: (params: RequestsIn[M][0]) => RequestsIn[M][1],
    work: (params: RequestsIn[M][0]) => RequestsIn[M][1] | Promise<RequestsIn[M][1]>,
  ): void;
  onNotification<M extends keyof NotificationsIn>(
    method: M,
    work: (params: NotificationsIn[M]) => void,
  ): void;
  report(what: string, fault: unknown): void;
  listen(): void;
}

/** `MessageType.Error` of the protocol. */
const LOG_ERROR = 1;
/** `LSPErrorCodes.RequestCancelled`. */
const REQUEST_CANCELLED = -32800;

export function connect(reader: MessageReader, writer: MessageWriter): Connection {
  const rpc = createMessageConnection(reader, writer, undefined, {
    // A request that is cancelled while it waits its turn is answered without any work.
    connectionStrategy: { cancelUndispatched: cancelled },
  });
  let shutDown = false;

  const tell: Client["tell"] = (method, params) => {
    // When the client has gone there is nobody left to tell.
    rpc.sendNotification(method, params).catch(() => undefined);
  };
  const report = (what: string, fault: unknown): void => {
    const trace = fault instanceof Error ? (fault.stack ?? fault.message) : String(fault);
    tell("window/logMessage", {
      type: LOG_ERROR,
      message: `Witness Mark could not finish ${what}: ${trace}`,
    });
  };

  rpc.onRequest("shutdown", () => {
    shutDown = true;
    return null;
  });
  rpc.onNotification("exit", () => process.exit(shutDown ? 0 : 1));
  rpc.onClose(() => process.exit(shutDown ? 0 : 1));
  rpc.onError(([error]) => process.stderr.write(`${error.message}\n`));

  return {
    tell,
    report,
    ask: (method, params) =>
      params === undefined ? rpc.sendRequest(method) : rpc.sendRequest(method, params),
    onRequest(method, otherwise, work) {
      rpc.onRequest(method, async (params: Parameters<typeof work>[0]) => {
        if (shutDown) return new ResponseError(ErrorCodes.InvalidRequest, "The server has been shut down.");
        try {
          return await work(params);
        } catch (fault) {
          report(method, fault);
          return otherwise(params);
        }
      });
    },
    onNotification(method, work) {
      rpc.onNotification(method, (params: Parameters<typeof work>[0]) => {
        try {
          work(params);
        } catch (fault) {
          report(method, fault);
        }
      });
    },
    listen: () => rpc.listen(),
  };
}

function cancelled(message: Message): ResponseMessage | undefined {
  if (!Message.isRequest(message)) return undefined;
  const { jsonrpc, id } = message;
  return { jsonrpc, id, error: { code: REQUEST_CANCELLED, message: "Cancelled" } };
}

/** Ends the process soon after the editor that started it has gone without a word. */
export function endWith(processId: number): void {
  setInterval(() => {
    try {
      process.kill(processId, 0);
    } catch {
      process.exit(1);
    }
  }, 3000).unref();
}
