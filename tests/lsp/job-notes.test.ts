// Finding a job by its number where only the client can read the notes.
import { describe, expect, it } from "vitest";
import { JobNotes, type JobNotesSurroundings } from "../../server/src/lsp/job-notes.ts";
import { Turns } from "../../server/src/lsp/turns.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";

const ROOT = "vscode-vfs://example/notes";
const CHANGED = 2;
const never = (): boolean => false;
const noteOf = (job: string): string => `---\njob: ${job}\n---\n`;

function world(files: Readonly<Record<string, string>>) {
  const texts = new Map(Object.entries(files).map(([path, text]) => [`${ROOT}/${path}`, text]));
  const hooks: { underWay?: () => void; holdUp?: Promise<void> } = {};
  const opened: string[] = [];
  const asked: string[] = [];
  const around: JobNotesSurroundings = {
    session: {
      checked: (uri) => {
        asked.push(uri);
        return undefined;
      },
    },
    libraries: { yaml: readYaml },
    files: { markdownIn: () => [], reads: never, stamp: () => "", text: () => undefined },
    notes: {
      list: async () => {
        await hooks.holdUp;
        return [...texts.keys()];
      },
      text: async (uri) => {
        const text = texts.get(uri);
        hooks.underWay?.();
        return text;
      },
    },
    open: () => opened,
    folders: () => [ROOT],
    watches: true,
    turns: new Turns(),
  };
  const jobs = new JobNotes(around);
  const find = async (job: string, off = never) =>
    (await jobs.find(job, `${ROOT}/back.md`, off))?.map(({ uri }) => uri.slice(ROOT.length + 1));
  return { texts, hooks, opened, asked, jobs, find };
}

describe("a job in notes that the client reads", () => {
  it("is read again when its file was changed while the text was on the way", async () => {
    const { texts, hooks, jobs, find } = world({ "a.md": noteOf("1") });
    hooks.underWay = () => {
      texts.set(`${ROOT}/a.md`, noteOf("2"));
      jobs.filesChanged([{ uri: `${ROOT}/a.md`, type: CHANGED }]);
      delete hooks.underWay;
    };
    expect(await find("1")).toEqual(["a.md"]);
    expect(await find("2")).toEqual(["a.md"]);
    expect(await find("1")).toEqual([]);
  });

  it("is not waited for once the question is called off", async () => {
    const { hooks, find } = world({ "a.md": noteOf("1") });
    hooks.holdUp = new Promise<void>(() => undefined);
    let off = false;
    setTimeout(() => {
      off = true;
    }, 20);
    expect(await find("1", () => off)).toBeUndefined();
    delete hooks.holdUp;
    expect(await find("1")).toEqual(["a.md"]);
  });

  it("is asked of an open text under the address that the editor gave it", async () => {
    const { opened, asked, find } = world({ "a%20b.md": noteOf("1") });
    opened.push(`${ROOT}/a b.md`);
    await find("1");
    expect(asked).toEqual([`${ROOT}/a b.md`]);
  });
});
