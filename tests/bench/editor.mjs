// The editor's end of the language server protocol, as little of it as a measurement needs.
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import protocol from "vscode-languageserver/node";

const { createProtocolConnection, StreamMessageReader, StreamMessageWriter } = protocol;
const LONGEST_WAIT = 60_000;

/** Starts a server, greets it, and measures the time from the start of the process to its answer. */
export async function startServer(script) {
  const started = performance.now();
  // With the setting that the extension starts its server with; the bare server gets it too.
  const args = ["--max-semi-space-size=1", script, "--stdio"];
  const child = spawn(process.execPath, args, { stdio: ["pipe", "pipe", "inherit"] });
  const connection = createProtocolConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  const published = new Map();
  connection.onNotification("textDocument/publishDiagnostics", ({ version, diagnostics }) => {
    const waiting = published.get(version);
    published.delete(version);
    waiting?.(diagnostics.length);
  });
  // A server may ask the editor for settings, files to watch or progress; this one has none to give.
  connection.onRequest((method, params) =>
    method === "workspace/configuration" ? params.items.map(() => null) : null,
  );
  connection.listen();
  await connection.sendRequest("initialize", {
    processId: process.pid,
    rootUri: null,
    capabilities: { textDocument: { publishDiagnostics: { versionSupport: true } } },
  });
  const answered = performance.now() - started;
  connection.sendNotification("initialized", {});

  /** Settles once the findings of that version have come. */
  const findingsOf = (version) =>
    new Promise((resolve, reject) => {
      const timer = setTimeout(
        () => reject(new Error(`${script} gave no findings for version ${version} within a minute.`)),
        LONGEST_WAIT,
      );
      published.set(version, (count) => {
        clearTimeout(timer);
        resolve(count);
      });
    });

  return {
    answered,
    /** The most memory that the server held at once, in megabytes; not known on every system. */
    memory() {
      try {
        const status = readFileSync(`/proc/${child.pid}/status`, "utf8");
        return Number(/VmHWM:\s+(\d+)/.exec(status)?.[1]) / 1024;
      } catch {
        return Number.NaN;
      }
    },
    /** Opens a note and gives the number of its findings. */
    open(uri, text) {
      const arrived = findingsOf(1);
      connection.sendNotification("textDocument/didOpen", {
        textDocument: { uri, languageId: "markdown", version: 1, text },
      });
      return arrived;
    },
    /** Makes one change and gives the milliseconds until its findings have come. */
    async change(uri, version, change) {
      const sent = performance.now();
      const arrived = findingsOf(version);
      connection.sendNotification("textDocument/didChange", {
        textDocument: { uri, version },
        contentChanges: [change],
      });
      await arrived;
      return performance.now() - sent;
    },
    /** Makes one change, asks something right behind it, and gives the milliseconds until the answer has come. */
    async changeAndAsk(uri, version, change, method, params) {
      const sent = performance.now();
      connection.sendNotification("textDocument/didChange", {
        textDocument: { uri, version },
        contentChanges: [change],
      });
      await connection.sendRequest(method, { textDocument: { uri }, ...params });
      return performance.now() - sent;
    },
    async stop() {
      await connection.sendRequest("shutdown");
      connection.sendNotification("exit");
      await new Promise((resolve) => child.once("exit", resolve));
      connection.dispose();
    },
  };
}
