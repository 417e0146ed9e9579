import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import type * as lsp from "vscode-languageserver/node";
import { CancellationTokenSource } from "vscode-languageserver/node";
import { SHOP_TEXT } from "../ide/note-at.ts";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor, markdownOf, messageOf } from "./editor.ts";

const NOTE = `---
job: 2031-0042
procedure: general
subject: invented lamp
complaint: droplets
by: tech 3
status: open
---

# An invented job

\`\`\`readings
test pressure: 0.80 psi
lens area: 310 cm2
lens force [N] = test pressure * lens area
supply current: 9,1 A
\`\`\`
`;
const WHOLE: lsp.Range = { start: { line: 0, character: 0 }, end: { line: 1000, character: 0 } };

let bundles: string;
let folder: string;
let editor: Editor;
let uri: string;

beforeAll(async () => {
  bundles = await buildBundles();
});
afterAll(() => removeBundles(bundles));
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "witness-mark-notes-"));
  // A repository of its own, so that no shop file above it counts.
  mkdirSync(join(folder, ".git"));
  uri = pathToFileURL(join(folder, "note.md")).href;
  editor = await Editor.start({ folder: bundles });
});
afterEach(async () => {
  expect(await editor.stop()).toBe(0);
  expect(editor.log).toEqual([]);
  rmSync(folder, { recursive: true });
});

const codes = (found: readonly lsp.Diagnostic[]): unknown[] => found.map(({ code }) => code);
const textAt = (text: string, range: lsp.Range): string =>
  (text.split(/\r?\n/)[range.start.line] ?? "").slice(range.start.character, range.end.character);

describe("findings", () => {
  it("come with their rule, its page, their place and what to do", async () => {
    const found = await editor.open(uri, NOTE);
    expect(codes(found)).toEqual(["unit/decimal-comma"]);
    const [finding] = found;
    expect(finding).toMatchObject({ source: "witness-mark", severity: 1 });
    expect(finding?.codeDescription?.href).toMatch(/^file:\/\/.*\/grammar\/rules\/unit-decimal-comma\.md$/);
    expect(finding && textAt(NOTE, finding.range)).toBe("9,1");
    expect(finding && messageOf(finding).split("\n").length).toBeGreaterThan(1);
    expect(editor.published(uri).at(-1)?.version).toBe(1);
  });

  it("follow every edit and go away with the mistake", async () => {
    await editor.open(uri, NOTE);
    editor.replace(uri, "9,1 A", "9.1 A");
    expect(await editor.findings(uri)).toEqual([]);
    editor.replace(uri, "test pressure * lens area", "test pressure * lens aera");
    expect(codes(await editor.findings(uri))).toEqual(["reading/undefined"]);
  });

  it("name related places", async () => {
    const found = await editor.open(uri, NOTE.replace("supply current: 9,1 A", "lens area: 300 cm2"));
    const duplicate = found.find(({ code }) => code === "reading/duplicate");
    expect(duplicate?.relatedInformation?.[0]?.location.uri).toBe(uri);
  });

  it("count columns in UTF-16 units and stand right with CRLF", async () => {
    const text = NOTE.replace("9,1 A", "🔧 9 A").replaceAll("\n", "\r\n");
    await editor.open(uri, text);
    editor.replace(uri, "supply current: 🔧 9 A", "medium: 🔧 smoke\r\nsize = 2 * nowhere # 🔧");
    const [finding] = await editor.findings(uri);
    expect(finding && textAt(editor.text(uri), finding.range)).toBe("nowhere");
    editor.replace(uri, "medium: 🔧 smoke", 'ok = "🔧🔧" is nowhere');
    const line = finding ? finding.range.start.line - 1 : -1;
    const second = (await editor.findings(uri)).find(({ range }) => range.start.line === line);
    expect(second && textAt(editor.text(uri), second.range)).toContain("nowhere");
  });

  it("are the same after many small edits as after opening the whole text", async () => {
    await editor.open(uri, NOTE);
    // Typed letter by letter, with slips and deletions, across line breaks.
    let seed = 7;
    const random = (below: number): number => {
      seed = (seed * 1103515245 + 12345) % 2147483648;
      return seed % below;
    };
    const pieces = [
      "\n",
      "```",
      "steps\n",
      "09:10  assess",
      ": 0,8 psi",
      "é🔧",
      "\r\n",
      " = 2 * ",
      "(",
      "[",
      "---\n",
      "~~~limits\n",
    ];
    for (let i = 0; i < 120; i++) {
      const text = editor.text(uri);
      const lines = text.split("\n").length;
      const line = random(lines);
      const start = { line, character: random(30) };
      const end = random(3) === 0 ? { line: line + random(2), character: random(30) } : start;
      const ordered = end.line === start.line && end.character < start.character ? start : end;
      editor.change(uri, { range: { start, end: ordered }, text: pieces[random(pieces.length)] ?? "" });
    }
    editor.change(uri, {
      range: { start: { line: 0, character: 0 }, end: { line: 0, character: 3 } },
      text: "---",
    });
    const inPieces = await editor.findings(uri);
    const other = uri.replace("note.md", "other.md");
    const atOnce = await editor.open(other, editor.text(uri));
    const placeless = (found: readonly lsp.Diagnostic[]): unknown =>
      JSON.parse(JSON.stringify(found).replaceAll("other.md", "note.md"));
    expect(placeless(inPieces)).toEqual(placeless(atOnce));
  });

  it("are not worked out for a change that is overtaken, and come for the newest", async () => {
    const long = `${NOTE}\n\`\`\`readings more\n${Array.from({ length: 3000 }, (_, i) => `r${i} = test pressure * ${i} cm2`).join("\n")}\n\`\`\`\n`;
    await editor.open(uri, long);
    for (let i = 0; i < 200; i++) editor.replace(uri, "0.8", i % 2 === 0 ? "0.80" : "0.8");
    await editor.findings(uri);
    const versions = editor.published(uri).map(({ version }) => version);
    expect(versions.at(-1)).toBe(201);
    expect(versions.length).toBeLessThan(201);
    expect([...versions].sort((a, b) => Number(a) - Number(b))).toEqual(versions);
  });

  it("clear when the note is closed, and stay away from other markdown", async () => {
    await editor.open(uri, NOTE);
    editor.close(uri);
    await editor.nextPublish();
    expect(editor.published(uri).at(-1)?.diagnostics).toEqual([]);
    const readme = uri.replace("note.md", "README.md");
    expect(await editor.open(readme, "# Title\n\n```readings\nx: 0,8 psi\n```\n")).toEqual([]);
    expect(await editor.hints(readme)).toEqual([]);
  });

  it("come by push until a client pulls, and then only when it asks", async () => {
    const pulls = await Editor.start({
      folder: bundles,
      capabilities: { textDocument: { diagnostic: {} } },
    });
    expect(pulls.initialized.capabilities.diagnosticProvider).toBeDefined();
    expect(codes(await pulls.open(uri, NOTE))).toEqual(["unit/decimal-comma"]);
    const ask = (): Promise<lsp.FullDocumentDiagnosticReport> =>
      pulls.connection.sendRequest("textDocument/diagnostic", { textDocument: { uri } });
    expect(codes((await ask()).items)).toEqual(["unit/decimal-comma"]);
    pulls.replace(uri, "9,1", "9.1");
    expect((await ask()).items).toEqual([]);
    expect(pulls.published(uri).at(-1)?.diagnostics).toEqual([]);
    expect(pulls.published(uri)).toHaveLength(2);
    expect(await pulls.stop()).toBe(0);

    const pushed = await Editor.start({
      folder: bundles,
      capabilities: { textDocument: { diagnostic: {} } },
      initializationOptions: { diagnostics: "push", rulePages: "https://example.invalid/rules" },
    });
    expect(pushed.initialized.capabilities.diagnosticProvider).toBeUndefined();
    const [finding] = await pushed.open(uri, NOTE);
    expect(finding?.codeDescription?.href).toBe("https://example.invalid/rules/unit-decimal-comma.md");
    expect(await pushed.stop()).toBe(0);
  });
});

describe("findings of all notes", () => {
  it("come when a client asks, and again only for what has changed", async () => {
    const pulls = await Editor.start({
      folder: bundles,
      folders: [pathToFileURL(folder).href],
      capabilities: { textDocument: { diagnostic: {} } },
    });
    expect(pulls.initialized.capabilities.diagnosticProvider).toMatchObject({ workspaceDiagnostics: true });
    const known = new Map<string, string>();
    const ask = async (): Promise<Record<string, unknown>> => {
      const previousResultIds = [...known].map(([of, value]) => ({ uri: of, value }));
      const { items }: lsp.WorkspaceDiagnosticReport = await pulls.connection.sendRequest(
        "workspace/diagnostic",
        { previousResultIds },
      );
      for (const item of items) {
        if (item.resultId === undefined) known.delete(item.uri);
        else known.set(item.uri, item.resultId);
      }
      return Object.fromEntries(
        items.map((item) => [
          item.uri.split("/").at(-1),
          item.kind === "full" ? codes(item.items) : "unchanged",
        ]),
      );
    };
    writeFileSync(join(folder, "a.md"), NOTE);
    writeFileSync(join(folder, "b.md"), `${NOTE.replace("9,1", "9.1")}\n![seam](seam.png)\n`);
    writeFileSync(join(folder, "README.md"), "# No note\n");
    expect(await ask()).toEqual({ "a.md": ["unit/decimal-comma"], "b.md": ["note/missing-file"] });
    expect(await ask()).toEqual({ "a.md": "unchanged", "b.md": "unchanged" });
    writeFileSync(join(folder, "seam.png"), "");
    const changes = [{ uri: pathToFileURL(join(folder, "seam.png")).href, type: 1 }];
    await pulls.connection.sendNotification("workspace/didChangeWatchedFiles", { changes });
    expect(await ask()).toEqual({ "a.md": "unchanged", "b.md": [] });
    // An open note is asked about by itself.
    await pulls.open(pathToFileURL(join(folder, "b.md")).href, NOTE);
    rmSync(join(folder, "a.md"));
    expect(await ask()).toEqual({ "a.md": [] });
    expect(await pulls.stop()).toBe(0);
  });
});

describe("hints and hovers", () => {
  // 0.80 psi × 310 cm²: 1 psi is 6894.757 Pa (NIST SP 811, table B.8), so 5515.806 Pa × 0.0310 m² = 170.99 N.
  // Uncertainty from the last digits (JCGM 100, 4.3.7): √((0.01/√12/0.80)² + (1/√12/310)²) · 2 · 170.99 N = 1.27 N.
  it("show the derived value with its uncertainty, and its working on request", async () => {
    await editor.open(uri, NOTE);
    const [hint] = await editor.hints(uri);
    expect(hint?.label).toBe("≈ 171.0 N ± 1.3 N");
    expect(hint?.position).toEqual(editor.positionOf(uri, "* lens area", "* lens area".length));
    const resolved: lsp.InlayHint = await editor.connection.sendRequest("inlayHint/resolve", hint);
    expect(JSON.stringify(resolved.tooltip)).toContain("test pressure * lens area");
    const hover = await editor.hover(uri, editor.positionOf(uri, "lens force", 3));
    expect(markdownOf(hover)).toContain("171.0 N");
    expect(hover?.range && textAt(NOTE, hover.range)).toBe("lens force");
  });

  it("lead to the definition in an editor that follows them", async () => {
    const follows = await Editor.start({
      folder: bundles,
      capabilities: {
        textDocument: { inlayHint: { resolveSupport: { properties: ["tooltip", "label.location"] } } },
      },
    });
    await follows.open(uri, NOTE);
    const [hint] = await follows.hints(uri);
    expect(hint?.label).toEqual([{ value: "≈ 171.0 N ± 1.3 N" }]);
    const resolved: lsp.InlayHint = await follows.connection.sendRequest("inlayHint/resolve", hint);
    const [part] = typeof resolved.label === "string" ? [] : resolved.label;
    expect(part?.location?.uri).toBe(uri);
    expect(part?.location && textAt(NOTE, part.location.range)).toBe("lens force");
    expect(await follows.stop()).toBe(0);
  });

  it("follow the text at once", async () => {
    await editor.open(uri, NOTE);
    editor.replace(uri, "0.80 psi", "1.60 psi");
    const [hint] = await editor.hints(uri);
    // Twice the 170.99 N above.
    expect(hint?.label).toMatch(/^≈ 342\.0 N/);
  });

  it("are plain text for a client that knows no markdown", async () => {
    const plain = await Editor.start({ folder: bundles, capabilities: {} });
    await plain.open(uri, NOTE);
    const hover = await plain.hover(uri, plain.positionOf(uri, "lens force", 3));
    expect(hover?.contents).toMatchObject({ kind: "plaintext" });
    expect(markdownOf(hover)).not.toContain("**");
    expect(await plain.stop()).toBe(0);
  });
});

describe("completion", () => {
  it("puts a unit in place of what is typed, the fitting ones first", async () => {
    await editor.open(uri, NOTE);
    editor.replace(uri, "lens area: 310 cm2", "lens area: 310 cm");
    const items = await editor.completion(uri, editor.positionOf(uri, "310 cm", 6));
    const item = items.find(({ label }) => label === "cm2");
    const range = item?.textEdit && "range" in item.textEdit ? item.textEdit.range : undefined;
    expect(range && textAt(editor.text(uri), range)).toBe("cm");
    const sorted = items.map(({ sortText }) => sortText);
    expect([...sorted].sort()).toEqual(sorted);
  });

  it("offers names and functions in a formula", async () => {
    await editor.open(uri, NOTE);
    editor.replace(uri, "test pressure * lens area", "test pressure * le");
    const labels = (await editor.completion(uri, editor.positionOf(uri, "* le", 4))).map(
      ({ label }) => label,
    );
    expect(labels).toContain("lens area");
    expect(labels).toContain("orifice size");
  });
});

describe("mends", () => {
  it("take the finding away", async () => {
    const [finding] = await editor.open(uri, NOTE);
    if (!finding) throw new Error("no finding");
    const [action] = await editor.actions(uri, finding.range, ["quickfix"]);
    expect(action?.title).toContain("9.1");
    expect(codes(action?.diagnostics ?? [])).toEqual(["unit/decimal-comma"]);
    if (action?.edit) editor.apply(action.edit);
    expect(await editor.findings(uri)).toEqual([]);
    expect(editor.text(uri)).toBe(NOTE.replace("9,1 A", "9.1 A"));
  });

  it("make every safe one at once, and leave choices to a person", async () => {
    const stale = NOTE.replace("* lens area", "* lens area ≈ 200 N").replace("9,1 A", "1,200 A");
    const found = await editor.open(uri, stale);
    expect(codes(found).sort()).toEqual(["reading/stale-result", "unit/decimal-comma"]);
    const [all] = await editor.actions(uri, WHOLE, ["source.fixAll"]);
    expect(all?.kind).toBe("source.fixAll.witness-mark");
    if (all?.edit) editor.apply(all.edit);
    expect(codes(await editor.findings(uri))).toEqual(["unit/decimal-comma"]);
    expect(editor.text(uri)).toContain("1,200 A");
    expect(await editor.actions(uri, WHOLE, ["source.fixAll"])).toEqual([]);
    const choices = (await editor.actions(uri, WHOLE, ["quickfix"])).filter(
      ({ kind }) => kind === "quickfix",
    );
    expect(choices.map(({ title }) => title)).toEqual([
      expect.stringContaining("1.200"),
      expect.stringContaining("1200"),
    ]);
    expect(choices.every(({ isPreferred }) => isPreferred === undefined)).toBe(true);
  });

  it("record results once, by action and by command", async () => {
    await editor.open(uri, NOTE.replace("9,1", "9.1"));
    const recorded: boolean = await editor.connection.sendRequest("workspace/executeCommand", {
      command: "witness-mark.server.recordResults",
      arguments: [uri],
    });
    expect(recorded).toBe(true);
    expect(editor.text(uri)).toMatch(/lens area +≈ 171\.0 N\n/);
    expect(await editor.findings(uri)).toEqual([]);
    expect(await editor.actions(uri, WHOLE, ["source.recordResults"])).toEqual([]);
    editor.replace(uri, "0.80", "0.90");
    const [action] = await editor.actions(uri, WHOLE, ["source.recordResults.witness-mark"]);
    if (action?.edit) editor.apply(action.edit);
    // 0.90 psi × 310 cm² = 6205.28 Pa × 0.0310 m² = 192.36 N.
    expect(editor.text(uri)).toMatch(/≈ 192\.4 N\n/);
    expect(await editor.findings(uri)).toEqual([]);
  });

  it("are plain changes for a client that knows no versions", async () => {
    const old = await Editor.start({ folder: bundles, capabilities: {} });
    const [finding] = await old.open(uri, NOTE);
    if (!finding) throw new Error("no finding");
    const [action] = await old.actions(uri, finding.range);
    expect(Object.keys(action?.edit?.changes ?? {})).toEqual([uri]);
    expect(await old.stop()).toBe(0);
  });
});

describe("files round a note", () => {
  const withInstrument = NOTE.replace("0.80 psi", "0.80 psi via P1").replace("9,1", "9.1");
  const changed = (...changes: lsp.FileEvent[]): Promise<void> =>
    editor.connection.sendNotification("workspace/didChangeWatchedFiles", { changes });

  it("asks the editor to watch them", async () => {
    await editor.open(uri, NOTE);
    expect(editor.registrations.map(({ method }) => method)).toEqual(["workspace/didChangeWatchedFiles"]);
  });

  it("uses the nearest shop file, and sees it come and change", async () => {
    expect(codes(await editor.open(uri, withInstrument))).not.toContain("instrument/unknown");
    const shopUri = pathToFileURL(join(folder, "shop.yaml")).href;
    writeFileSync(join(folder, "shop.yaml"), SHOP_TEXT);
    await changed({ uri: shopUri, type: 1 });
    const hover = await editor.hover(uri, editor.positionOf(uri, "via P1", 5));
    expect(markdownOf(hover)).toContain("invented pressure gauge");

    writeFileSync(join(folder, "shop.yaml"), SHOP_TEXT.replace("range: 0 to 2 psi", "range: nothing"));
    await changed({ uri: shopUri, type: 2 });
    await editor.hover(uri, { line: 0, character: 0 });
    expect(editor.published(shopUri).at(-1)?.diagnostics.length).toBeGreaterThan(0);

    writeFileSync(join(folder, "shop.yaml"), SHOP_TEXT);
    await changed({ uri: shopUri, type: 2 });
    await editor.hover(uri, { line: 0, character: 0 });
    expect(editor.published(shopUri).at(-1)?.diagnostics).toEqual([]);
  });

  it("reports a link that leads nowhere until the file is there", async () => {
    const linked = `${NOTE.replace("9,1", "9.1")}\n![the seam](seam.png)\n`;
    expect(codes(await editor.open(uri, linked))).toEqual(["note/missing-file"]);
    writeFileSync(join(folder, "seam.png"), "");
    const before = editor.published(uri).length;
    await changed({ uri: pathToFileURL(join(folder, "seam.png")).href, type: 1 });
    while (editor.published(uri).length === before) await editor.nextPublish();
    expect(editor.published(uri).at(-1)?.diagnostics).toEqual([]);
  });

  it("checks notes that are no files", async () => {
    for (const scheme of [
      "untitled:Untitled-1",
      "vscode-vfs://host/folder/note.md",
      "file://host/share/note.md",
    ]) {
      const found = await editor.open(scheme, `${NOTE}\n![the seam](seam.png)\n`);
      expect(codes(found)).toContain("unit/decimal-comma");
      expect((await editor.hints(scheme)).length).toBe(1);
    }
  });
});

describe("requests that come to nothing", () => {
  it("answers a cancelled request without work and goes on", async () => {
    await editor.open(uri, NOTE);
    const textDocument = { uri };
    const answers = await Promise.allSettled(
      Array.from({ length: 20 }, () => {
        const source = new CancellationTokenSource();
        const params = { textDocument, range: WHOLE };
        const request = editor.connection.sendRequest("textDocument/inlayHint", params, source.token);
        source.cancel();
        return request;
      }),
    );
    const refused = answers.flatMap((answer) => (answer.status === "rejected" ? [answer.reason.code] : []));
    expect(refused.length).toBeGreaterThan(0);
    // `LSPErrorCodes.RequestCancelled`
    expect(new Set(refused)).toEqual(new Set([-32800]));
    expect((await editor.hints(uri)).length).toBe(1);
  });

  it("answers about a text that is not open, and beyond a text's end", async () => {
    expect(await editor.hover("untitled:none", { line: 3, character: 4 })).toBeNull();
    await editor.open(uri, NOTE);
    expect(await editor.hover(uri, { line: 5000, character: 90 })).toBeNull();
    expect(await editor.completion(uri, { line: 13, character: 5000 })).toBeInstanceOf(Array);
    expect(
      await editor.actions(uri, { start: { line: 900, character: 0 }, end: { line: 2, character: 1 } }),
    ).toBeInstanceOf(Array);
  });

  it("refuses what it does not know, as the protocol says", async () => {
    await expect(editor.connection.sendRequest("textDocument/nothing", {})).rejects.toMatchObject({
      code: -32601,
    });
  });
});
