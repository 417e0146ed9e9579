import { afterAll, beforeAll, expect, it } from "vitest";
import type * as lsp from "vscode-languageserver/node";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor } from "./editor.ts";

const HEAD = "---\njob: 1\nprocedure: lamp-moisture\nstatus: open\n---\n\n```readings\n";
const uri = "untitled:note";

let bundles: string;
let editor: Editor;
beforeAll(async () => {
  bundles = await buildBundles();
  const completion = {
    completionItem: { documentationFormat: ["markdown" as const] },
    completionList: { itemDefaults: ["editRange"] },
  };
  editor = await Editor.start({ folder: bundles, capabilities: { textDocument: { completion } } });
});
afterAll(async () => {
  expect(await editor.stop()).toBe(0);
  expect(editor.log).toEqual([]);
  removeBundles(bundles);
});

async function ask(lines: string): Promise<lsp.CompletionList> {
  const text = `${HEAD}${lines.replace("$0", "")}\n\`\`\`\n`;
  await editor.open(uri, text);
  const before = (HEAD + lines).split("$0")[0]?.split("\n") ?? [];
  const position = { line: before.length - 1, character: before.at(-1)?.length ?? 0 };
  return editor.connection.sendRequest("textDocument/completion", { textDocument: { uri }, position });
}

it("sends one range for all, and tells more of an item when somebody looks at it", async () => {
  const list = await ask("flow: 1 L/min\nsize = ori$0");
  expect(list.itemDefaults?.editRange).toEqual({
    start: { line: 8, character: 7 },
    end: { line: 8, character: 10 },
  });
  const item = list.items.find(({ label }) => label === "orifice size");
  expect(item).toMatchObject({ textEditText: "orifice size(" });
  expect(item?.documentation).toBeUndefined();
  const resolved: lsp.CompletionItem = await editor.connection.sendRequest("completionItem/resolve", item);
  expect(JSON.stringify(resolved.documentation)).toContain("orifice size(flow, drop");
  const reading = list.items.find(({ label }) => label === "flow");
  expect(await editor.connection.sendRequest("completionItem/resolve", reading)).toEqual(reading);
});

it("leaves out what does not match, where there are very many, and says so", async () => {
  const many = Array.from({ length: 400 }, (_, i) => `reading ${i}: ${i} A`).join("\n");
  const all = await ask(`${many}\nsum = $0`);
  expect(all.isIncomplete).toBe(true);
  expect(all.items).toHaveLength(300);
  const some = await ask(`${many}\nsum = reading 39$0`);
  expect(some.items.map(({ label }) => label)).toEqual(expect.arrayContaining(["reading 39", "reading 399"]));
  expect(some.items.length).toBeLessThan(50);
});
