import type { DataCallback, Disposable, Message, MessageReader } from "vscode-jsonrpc/node";

/**
 * Knows of changes that have arrived and are not handled yet. While a long note is worked on, several
 * keystrokes can queue up; only the newest of them is worth working out. Looking at what has arrived,
 * rather than waiting for a while, never delays a change that comes alone.
 */
export class PendingChanges {
  readonly #arrived = new Map<string, number>();

  /** A reader that passes every message on and counts the changes among them. */
  watch(reader: MessageReader): MessageReader {
    const count = (message: Message): void => {
      const uri = changedUri(message);
      if (uri !== undefined) this.#arrived.set(uri, (this.#arrived.get(uri) ?? 0) + 1);
    };
    return {
      onError: reader.onError,
      onClose: reader.onClose,
      onPartialMessage: reader.onPartialMessage,
      listen(callback: DataCallback): Disposable {
        return reader.listen((message) => {
          count(message);
          callback(message);
        });
      },
      dispose: () => reader.dispose(),
    };
  }

  /** Notes that one change is being handled; says whether a newer one waits behind it. */
  take(uri: string): boolean {
    const left = (this.#arrived.get(uri) ?? 0) - 1;
    if (left > 0) {
      this.#arrived.set(uri, left);
      return true;
    }
    this.#arrived.delete(uri);
    return false;
  }
}

function changedUri(message: Message): string | undefined {
  if (!("method" in message) || message.method !== "textDocument/didChange") return undefined;
  if (!("params" in message) || !isRecord(message.params)) return undefined;
  const { textDocument } = message.params;
  return isRecord(textDocument) && typeof textDocument.uri === "string" ? textDocument.uri : undefined;
}

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null;
