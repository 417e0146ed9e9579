import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { builtinModules } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createContext, runInContext } from "node:vm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type {
  Diagnostic,
  InitializeResult,
  InlayHint,
  PublishDiagnosticsParams as Published,
} from "vscode-languageserver-protocol";
import manifest from "../../package.json";
import { makeBrowserBundles } from "../../server/build/bundles.mjs";
import type { FindAnswer, Look, OfferedProcedure, SimilarAnswer } from "../../server/src/lsp/own-messages.ts";

const samples = join(import.meta.dirname, "../../samples");
const NOTE = readFileSync(join(samples, "telematics-box-apprentice.md"), "utf8");
const SHOP = readFileSync(join(samples, "shop.yaml"), "utf8");
const URI = "vscode-vfs://example/notes/box.md";

let folder: string;
let made: Awaited<ReturnType<typeof makeBrowserBundles>>;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "witness-mark-browser-"));
  made = await makeBrowserBundles(folder);
}, 60_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("the bundles for a browser", () => {
  it("hold no part of Node, and load nothing but the editor's own interface", () => {
    const node = new Set([...builtinModules, ...builtinModules.map((name) => `node:${name}`)]);
    for (const [name, { inputs }] of Object.entries(made)) {
      const asked = Object.values(inputs).flatMap(({ imports }) => imports.filter((one) => one.external));
      const outside = new Set(asked.map(({ path }) => path));
      expect([name, [...outside].filter((path) => node.has(path))]).toEqual([name, []]);
      expect([...outside]).toEqual(name === "browser" ? ["vscode"] : []);
      expect(Object.keys(inputs).filter((path) => node.has(path))).toEqual([]);
    }
  });

  it("are what the manifest names", () => {
    expect(manifest.browser).toBe("./dist/browser.js");
  });
});

/** A worker of a browser as far as the server sees one: messages in, messages out, and no Node at all. */
class Worker {
  readonly #waiting = new Map<number, (result: unknown) => void>();
  readonly #heard: { method: string; params: unknown }[] = [];
  readonly #wake = new Set<() => void>();
  #last = 0;
  readonly #self: Scope = {
    postMessage: (data) => this.#receive(data),
    addEventListener: () => undefined,
  };

  constructor(script: string) {
    const world = createContext({
      self: this.#self,
      setTimeout,
      clearTimeout,
      performance,
      console,
      TextEncoder,
      TextDecoder,
      URL,
    });
    runInContext(readFileSync(script, "utf8"), world, { filename: script });
  }

  #receive(message: Message): void {
    if (message.method !== undefined && message.id !== undefined) {
      this.#send({ id: message.id, result: this.hand(message.method, message.params) });
    } else if (message.method !== undefined) {
      this.#heard.push({ method: message.method, params: message.params });
      for (const wake of this.#wake) wake();
    } else if (message.id !== undefined) {
      this.#waiting.get(message.id)?.(message.result);
      this.#waiting.delete(message.id);
    }
  }

  #send(message: object): void {
    this.#self.onmessage?.({ data: { jsonrpc: "2.0", ...message } });
  }

  ask<R>(method: string, params: unknown): Promise<R> {
    const id = ++this.#last;
    const answer = new Promise<unknown>((resolve) => this.#waiting.set(id, resolve));
    this.#send({ id, method, params });
    return answer as Promise<R>;
  }

  /** What the server asks of the client; an empty answer does for most. */
  hand: (method: string, params: unknown) => unknown = () => null;

  tell(method: string, params: unknown): void {
    this.#send({ method, params });
  }

  /** The findings that were sent last for a text, once some have been sent since the first `after` messages. */
  async findings(after: number, uri: string): Promise<readonly Diagnostic[]> {
    for (;;) {
      const sent = this.#heard
        .slice(after)
        .flatMap(({ method, params }) => (method.endsWith("publishDiagnostics") ? [params as Published] : []))
        .findLast((published) => published.uri === uri);
      if (sent) return sent.diagnostics;
      await new Promise<void>((resolve) => this.#wake.add(resolve));
    }
  }

  get heard(): number {
    return this.#heard.length;
  }
}

interface Scope {
  onmessage?: (event: { data: unknown }) => void;
  postMessage(data: Message): void;
  /** For errors of the channel, which this one has none of. */
  addEventListener(): void;
}

interface Message {
  readonly id?: number;
  readonly method?: string;
  readonly params?: unknown;
  readonly result?: unknown;
}

describe("the server in a worker without Node", () => {
  let worker: Worker;

  beforeAll(async () => {
    worker = new Worker(join(folder, "browser-server.js"));
    const { serverInfo } = await worker.ask<InitializeResult>("initialize", {
      processId: null,
      rootUri: null,
      capabilities: {},
      initializationOptions: { diagnostics: "push", handsNotes: true },
      workspaceFolders: [{ uri: "vscode-vfs://example/notes", name: "notes" }],
    });
    expect(serverInfo?.name).toBe("Witness Mark");
    worker.tell("initialized", {});
  });

  it("finds the mistakes of a note on a virtual file system", async () => {
    const textDocument = { uri: URI, languageId: "markdown", version: 1, text: NOTE };
    worker.tell("textDocument/didOpen", { textDocument });
    const rules = (await worker.findings(0, URI)).map(({ code }) => code);
    expect(rules).toContain("unit/unknown");
  });

  it("takes the shop file that the client hands in, and the next one in its place", async () => {
    const withShop = async (text: string) => {
      const before = worker.heard;
      const shop = { uri: "vscode-vfs://example/notes/shop.yaml", text };
      worker.tell("witness-mark/shop", { folder: "vscode-vfs://example/notes", shop });
      const found = await worker.findings(before, URI);
      return found.map(({ code }) => code);
    };
    // The note reads with P1 and F1, which the first shop does not have.
    expect(await withShop("altitude: 120 m\n")).toContain("instrument/unknown");
    expect(await withShop(SHOP)).not.toContain("instrument/unknown");
  });

  it("answers with hints, a look at the note and the procedures", async () => {
    const range = { start: { line: 0, character: 0 }, end: { line: 100, character: 0 } };
    const hints = await worker.ask<InlayHint[]>("textDocument/inlayHint", {
      textDocument: { uri: URI },
      range,
    });
    expect(hints.length).toBeGreaterThan(0);
    const look = await worker.ask<Look>("witness-mark/look", { uri: URI });
    expect([look.job, look.status]).toEqual(["2031-0071", "open"]);
    const procedures = await worker.ask<OfferedProcedure[]>("witness-mark/procedures", {});
    expect(procedures.map(({ id }) => id)).toContain("lamp-moisture");
  });

  it("finds among notes that the client hands over, since it can read none by itself", async () => {
    const other = URI.replace("box.md", "other.md");
    const text = NOTE.replace("2031-0071", "2031-0500");
    worker.hand = (method, params) => {
      if (method === "witness-mark/notes") return [URI, other];
      const asked = typeof params === "object" && params !== null && "uri" in params ? params.uri : undefined;
      return method === "witness-mark/noteText" && asked === other ? text : null;
    };
    const question = "test pressure > 0 psi";
    const answer = await worker.ask<FindAnswer>("witness-mark/find", { question });
    expect(answer).toMatchObject({ total: 2, among: 2 });
    expect(answer.notes.map(({ path }) => path).sort()).toEqual(["box.md", "other.md"]);
    const similar = await worker.ask<SimilarAnswer>("witness-mark/similar", { uri: URI });
    expect(similar.notes.map(({ job }) => job)).toEqual(["2031-0500"]);
  });
});
