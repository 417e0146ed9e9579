import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import translated from "../../client/l10n/bundle.l10n.json";
import { isJobNoteText } from "../../client/src/job-note.ts";
import { injectionGrammar } from "../../grammar/highlighting.ts";
import manifest from "../../package.json";
import words from "../../package.nls.json";

const root = join(import.meta.dirname, "../..");
const read = (path: string): string => readFileSync(join(root, path), "utf8");
const clientSources = readdirSync(join(root, "client/src"))
  .map((file) => read(`client/src/${file}`))
  .join("\n");

describe("the extension's manifest", () => {
  it("keeps every string that a person reads in the language file, and no other", () => {
    const asked = [...JSON.stringify(manifest).matchAll(/"%([\w.]+)%"/g)].map((match) => match[1]);
    expect([...new Set(asked)].sort()).toEqual(Object.keys(words).sort());
  });

  it("offers every string of the client for translation", () => {
    const said = [...clientSources.matchAll(/l10n\.t\(\s*"([^"]+)"/g)].map((match) => match[1]);
    expect(said.length).toBeGreaterThan(0);
    expect([...new Set(said)].sort()).toEqual(Object.keys(translated).sort());
  });

  it("names files that are there, and the grammar as it is", () => {
    const [grammar] = manifest.contributes.grammars;
    expect(grammar?.scopeName).toBe(injectionGrammar.scopeName);
    for (const path of [manifest.icon, grammar?.path, manifest.contributes.languages[0]?.configuration]) {
      expect(existsSync(join(root, path ?? "missing"))).toBe(true);
    }
  });

  it("registers the commands that it contributes", () => {
    for (const { command } of manifest.contributes.commands) {
      expect(clientSources).toContain(`registerCommand("${command}"`);
    }
  });

  it("wakes for markdown only, and works in folders that are not trusted", () => {
    expect(manifest.activationEvents).toEqual(["onLanguage:markdown"]);
    expect(manifest.capabilities.untrustedWorkspaces.supported).toBe(true);
  });
});

describe("the look that decides whether the server is worth starting", () => {
  it("knows every sample note", () => {
    const notes = readdirSync(join(root, "samples")).filter(
      (file) => file.endsWith(".md") && file !== "README.md",
    );
    expect(notes.length).toBeGreaterThan(7);
    for (const note of notes) expect([note, isJobNoteText(read(`samples/${note}`))]).toEqual([note, true]);
  });

  it("knows half-typed notes, and leaves other markdown alone", () => {
    expect(isJobNoteText("---\njob: 1")).toBe(true);
    expect(isJobNoteText("\uFEFF---\r\njob: 1\r\n---\r\n")).toBe(true);
    expect(isJobNoteText("---\ntitle: x\n---\n\n> ~~~steps\n> 09:10  wash\n> ~~~\n")).toBe(true);
    expect(isJobNoteText("---\ntitle: x\n---\n\njob: 1\n")).toBe(false);
    expect(isJobNoteText("# Title\n\n```readings\nx: 1 A\n```\n")).toBe(false);
    expect(isJobNoteText("")).toBe(false);
  });
});
