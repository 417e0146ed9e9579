import { describe, expect, it } from "vitest";
import { EvaluationMemo } from "../../server/src/analysis/evaluation-memo.ts";
import * as base from "../../server/src/base/live.ts";
import { analyze } from "../../server/src/check/analyze.ts";
import { addressKey, shownPaths } from "../../server/src/lsp/addresses.ts";
import { type IndexSurroundings, NotesIndex } from "../../server/src/lsp/notes-index.ts";
import type { CheckedNote } from "../../server/src/lsp/session.ts";
import { Turns } from "../../server/src/lsp/turns.ts";
import { isJobNote, readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { noShop } from "../../server/src/shop/read-shop.ts";

const ROOT = "vscode-vfs://example/notes";
const [CREATED, CHANGED, DELETED] = [1, 2, 3] as const;
const shop = noShop(builtInProcedures);
const never = (): boolean => false;
const quiet = (): void => undefined;

const noteOf = (job: string, size: string): string =>
  `---\njob: ${job}\n---\n\n\`\`\`readings\nleak size: ${size}\n\`\`\`\n`;

function check(uri: string, text: string): CheckedNote | undefined {
  const note = readNote(text, readYaml);
  if (!isJobNote(note)) return undefined;
  const analysis = analyze(note, shop, { memo: new EvaluationMemo() });
  return { target: { uri, version: 0, lines: note.lines }, analysis, shop };
}

/** Notes that are fetched from a client, some of them open, and an index over them. */
function world(files: Readonly<Record<string, string>>) {
  const texts = new Map(Object.entries(files).map(([path, text]) => [`${ROOT}/${path}`, text]));
  const open = new Map<string, CheckedNote | undefined>();
  const fetched: string[] = [];
  const faults = new Set<string>();
  /** Called while a text is on its way. */
  const hooks: { underWay?: () => void; holdUp?: Promise<void> } = {};
  const around: IndexSurroundings = {
    session: {
      checked: (uri) => open.get(uri),
      read: (uri, text) => {
        if (faults.has(uri)) throw new Error("a fault of ours");
        return check(uri, text);
      },
    },
    files: {
      markdownIn: () => [],
      reads: never,
      shopFile: () => undefined,
      stamp: () => "",
      text: () => undefined,
    },
    notes: {
      list: async () => [...texts.keys()],
      text: async (uri) => {
        fetched.push(uri.slice(ROOT.length + 1));
        const text = texts.get(uri);
        hooks.underWay?.();
        await hooks.holdUp;
        return text;
      },
    },
    open: () => [...open.keys()],
    folders: () => [ROOT],
    watches: true,
    lookAgain: quiet,
    turns: { give: async () => undefined, waitFor: (work, off) => turns.waitFor(work, off) },
  };
  const turns = new Turns();
  const index = new NotesIndex(base, around);
  return {
    texts,
    open,
    faults,
    index,
    hooks,
    sizes: () => index.live.base.notes.map(({ path, values }) => `${path} ${values[0]?.value}`).sort(),
    takeFetched: () => fetched.splice(0).sort(),
    tell: (type: 1 | 2 | 3, path: string) => index.filesChanged([{ uri: `${ROOT}/${path}`, type }]),
  };
}

describe("the index", () => {
  it("reads every file once, and then only what it was told of", async () => {
    const { index, texts, sizes, takeFetched, tell } = world({
      "a.md": noteOf("1", "1 mm"),
      "b.md": "# No note\n",
    });
    await index.update(never, false, quiet);
    expect([sizes(), takeFetched()]).toEqual([["a.md 1"], ["a.md", "b.md"]]);
    await index.update(never, false, quiet);
    expect(takeFetched()).toEqual([]);
    texts.set(`${ROOT}/b.md`, noteOf("2", "2 mm"));
    tell(CHANGED, "b.md");
    tell(CHANGED, "b.md");
    await index.update(never, false, quiet);
    expect([sizes(), takeFetched()]).toEqual([["a.md 1", "b.md 2"], ["b.md"]]);
    texts.delete(`${ROOT}/a.md`);
    tell(DELETED, "a.md");
    await index.update(never, false, quiet);
    expect([sizes(), takeFetched()]).toEqual([["b.md 2"], ["a.md"]]);
    tell(CREATED, "node_modules/x/a.md");
    tell(CREATED, ".git/a.md");
    tell(CHANGED, "rows.csv");
    await index.update(never, false, quiet);
    expect(takeFetched()).toEqual([]);
  });

  it("reads a file again that was changed while its text was on the way", async () => {
    const { index, texts, sizes, hooks, tell } = world({ "a.md": noteOf("1", "1 mm") });
    hooks.underWay = () => {
      texts.set(`${ROOT}/a.md`, noteOf("1", "2 mm"));
      tell(CHANGED, "a.md");
      delete hooks.underWay;
    };
    await index.update(never, false, quiet);
    expect(sizes()).toEqual(["a.md 1"]);
    await index.update(never, false, quiet);
    expect(sizes()).toEqual(["a.md 2"]);
  });

  it("goes on where it was called off", async () => {
    const files = Object.fromEntries(
      Array.from({ length: 40 }, (_, i) => [`${i}.md`, noteOf(String(i), `${i + 1} mm`)]),
    );
    const { index, sizes, takeFetched } = world(files);
    const told: string[] = [];
    // Called off after the first piece of sixteen.
    await index.update(
      () => told.length > 0,
      false,
      (done, of) => told.push(`${done}/${of}`),
    );
    const first = takeFetched();
    expect([sizes().length, told]).toEqual([first.length, ["16/40"]]);
    await index.update(never, false, (done, of) => told.push(`${done}/${of}`));
    expect(sizes()).toHaveLength(40);
    expect(takeFetched()).toHaveLength(40 - first.length);
    expect(told.at(-1)).toBe("24/24");
  });

  it("does not wait for a text that never comes once it is called off", async () => {
    const { index, texts, sizes, hooks } = world({ "a.md": noteOf("1", "1 mm") });
    hooks.holdUp = new Promise<void>(quiet);
    let off = false;
    setTimeout(() => {
      off = true;
    }, 20);
    await index.update(() => off, false, quiet);
    expect([sizes(), texts.size]).toEqual([[], 1]);
    delete hooks.holdUp;
    await index.update(never, false, quiet);
    expect(sizes()).toEqual(["a.md 1"]);
  });

  it("takes open notes from the editor, and fetches them again when they are closed", async () => {
    const { index, open, sizes, takeFetched } = world({ "a.md": noteOf("1", "1 mm") });
    const uri = `${ROOT}/a.md`;
    open.set(uri, check(uri, noteOf("1", "5 mm")));
    open.set("untitled:Untitled-1", check("untitled:Untitled-1", noteOf("2", "6 mm")));
    await index.update(never, false, quiet);
    expect([sizes(), takeFetched()]).toEqual([["Untitled-1 6", "a.md 5"], []]);
    // Half deleted in the editor it is no job note any more.
    open.set(uri, undefined);
    await index.update(never, false, quiet);
    expect(sizes()).toEqual(["Untitled-1 6"]);
    open.clear();
    await index.update(never, false, quiet);
    expect([sizes(), takeFetched()]).toEqual([["a.md 1"], ["a.md"]]);
  });

  it("keeps a note that is closed while others are read", async () => {
    const { index, open, sizes, hooks } = world({
      "a.md": noteOf("1", "1 mm"),
      "b.md": noteOf("2", "2 mm"),
    });
    const uri = `${ROOT}/a.md`;
    open.set(uri, check(uri, noteOf("1", "5 mm")));
    await index.update(never, false, quiet);
    index.filesChanged([{ uri: `${ROOT}/b.md`, type: CHANGED }]);
    hooks.underWay = () => open.clear();
    await index.update(never, false, quiet);
    expect(sizes()).toEqual(["a.md 5", "b.md 2"]);
    await index.update(never, false, quiet);
    expect(sizes()).toEqual(["a.md 1", "b.md 2"]);
  });

  it("forgets what lay in a folder that is gone, and looks for what a new one holds", async () => {
    const { index, texts, sizes, tell } = world({
      "x/a.md": noteOf("1", "1 mm"),
      "xy/b.md": noteOf("2", "2 mm"),
    });
    await index.update(never, false, quiet);
    texts.delete(`${ROOT}/x/a.md`);
    tell(DELETED, "x");
    await index.update(never, false, quiet);
    expect(sizes()).toEqual(["xy/b.md 2"]);
    texts.set(`${ROOT}/z/c.md`, noteOf("3", "3 mm"));
    tell(CREATED, "z");
    await index.update(never, false, quiet);
    expect(sizes()).toEqual(["xy/b.md 2", "z/c.md 3"]);
  });

  it("answers about all others when one note brings out a fault of ours", async () => {
    const { index, faults, sizes, tell } = world({
      "a.md": noteOf("1", "1 mm"),
      "b.md": noteOf("2", "2 mm"),
    });
    faults.add(`${ROOT}/a.md`);
    await index.update(never, false, quiet);
    expect([sizes(), index.unread]).toEqual([["b.md 2"], [`${ROOT}/a.md`]]);
    faults.clear();
    tell(CHANGED, "a.md");
    await index.update(never, false, quiet);
    expect([sizes().length, index.unread]).toEqual([2, []]);
  });
});

describe("addresses", () => {
  it("are one key, however an editor writes them", () => {
    expect(addressKey("file:///c%3A/notes/a%20b.md")).toBe(addressKey("file:///C:/notes/a b.md"));
    expect(addressKey("file:///n/100%.md")).toBe("file:///n/100%.md");
    expect(addressKey("file:///n/")).toBe("file:///n");
  });

  it("are shown from the deepest open folder, and told apart by its name", () => {
    expect(shownPaths(["file:///a/notes"])("file:///a/notes/x/b%20c.md")).toBe("x/b c.md");
    const shown = shownPaths(["file:///a/notes", "file:///b/notes/", "file:///a/notes/old"]);
    expect(shown("file:///a/notes/x.md")).toBe("notes/x.md");
    expect(shown("file:///b/notes/x.md")).toBe("notes (2)/x.md");
    expect(shown("file:///a/notes/old/x.md")).toBe("old/x.md");
    expect(shown("file:///elsewhere/x.md")).toBe("x.md");
    expect(shown("untitled:Untitled-1")).toBe("Untitled-1");
  });
});

describe("long work in pieces", () => {
  it("waits while somebody types, and goes on in the first pause", async () => {
    const turns = new Turns();
    await new Promise((resolve) => setTimeout(resolve, 10));
    const typing = setInterval(() => turns.typed(), 10);
    turns.typed();
    let over = false;
    const given = turns.give().then(() => {
      over = true;
    });
    await new Promise((resolve) => setTimeout(resolve, 150));
    expect(over).toBe(false);
    clearInterval(typing);
    await given;
  });

  it("can be called off between two pieces", async () => {
    const turns = new Turns();
    let steps = 0;
    function* count(): Generator<void, string> {
      for (; steps < 1000; steps++) yield;
      return "done";
    }
    expect(await turns.run(count(), () => steps >= 5)).toBeUndefined();
    expect(steps).toBe(5);
    expect(await turns.run(count(), never)).toBe("done");
  });
});
