import { fork } from "node:child_process";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createMessageConnection, IPCMessageReader, IPCMessageWriter } from "vscode-languageserver/node";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor } from "./editor.ts";

const NOTE =
  "---\njob: 2031-0042\nprocedure: general\nstatus: open\n---\n\n```readings\nflow: 0,42 L/min\n```\n";

let bundles: string;
beforeAll(async () => {
  bundles = await buildBundles("cli");
});
afterAll(() => removeBundles(bundles));

describe("the server as a process", () => {
  it("says what it can do, in UTF-16 positions and with its version", async () => {
    const editor = await Editor.start({ folder: bundles });
    expect(editor.initialized.serverInfo).toEqual({
      name: "Witness Mark",
      version: expect.stringMatching(/^\d+\.\d+\.\d+$/),
    });
    expect(editor.initialized.capabilities).toMatchObject({
      positionEncoding: "utf-16",
      textDocumentSync: { openClose: true, change: 2 },
    });
    expect(await editor.stop()).toBe(0);
  });

  it("ends when the editor goes without a word", async () => {
    const editor = await Editor.start({ folder: bundles });
    editor.process.stdin?.end();
    expect(await editor.exitCode).toBe(1);
  });

  it("ends with an error when it is told to leave before it was shut down", async () => {
    const editor = await Editor.start({ folder: bundles });
    await editor.connection.sendNotification("exit");
    expect(await editor.exitCode).toBe(1);
  });

  it("works no more after it was shut down", async () => {
    const editor = await Editor.start({ folder: bundles });
    await editor.connection.sendRequest("shutdown");
    await expect(editor.hover("untitled:a", { line: 0, character: 0 })).rejects.toMatchObject({
      code: -32600,
    });
    await editor.connection.sendNotification("exit");
    expect(await editor.exitCode).toBe(0);
  });

  it("is also started by the command line", async () => {
    for (const command of [
      ["cli.js", "lsp", "--stdio"],
      ["cli.js", "lsp"],
    ]) {
      const editor = await Editor.start({ folder: bundles, command });
      const found = await editor.open("untitled:a", NOTE);
      expect(found.map(({ code }) => code)).toContain("unit/decimal-comma");
      expect(await editor.stop()).toBe(0);
    }
  });

  it("speaks over the channel that VS Code opens to its own processes", async () => {
    const child = fork(join(bundles, "server.js"), ["--node-ipc"]);
    const connection = createMessageConnection(new IPCMessageReader(child), new IPCMessageWriter(child));
    connection.listen();
    const params = { processId: process.pid, rootUri: null, capabilities: {} };
    const result = await connection.sendRequest("initialize", params);
    expect(result).toMatchObject({ serverInfo: { name: "Witness Mark" } });
    const exited = new Promise((resolve) => child.once("exit", resolve));
    await connection.sendRequest("shutdown");
    await connection.sendNotification("exit");
    expect(await exited).toBe(0);
  });
});
