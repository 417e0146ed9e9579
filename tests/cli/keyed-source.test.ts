// What is kept from one run to the next may never be the result of another text than its key says.
import { readFileSync, statSync, utimesSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it, vi } from "vitest";
import { KeyedSource } from "../../server/src/host/keyed-source.ts";
import { fromDisk } from "../../server/src/host/note-source.ts";
import { readLog } from "../../server/src/host/read-log.ts";
import { readBytes } from "../../server/src/host/read-text.ts";
import { stillAsSeen, Watch } from "../../server/src/host/seen.ts";
import type { LogRequest } from "../../server/src/note/series-log.ts";
import { CLEAR, folderWith, runIn, WRONG } from "./run-in.ts";

const LOG = "t [s],p [Pa]\n0,100\n";

describe("a source that tells keys", () => {
  const source = () => new KeyedSource(fromDisk({ logs: readLog }));
  const textFrom = (one: KeyedSource, path: string) => {
    const reading = one.read(path);
    return reading.ok ? reading.text : reading.reason;
  };

  it("hands over the text of the key, whatever is saved in between", () => {
    const folder = folderWith({ "a.md": CLEAR });
    const path = join(folder, "a.md");
    const one = source();
    const key = one.start(path);
    writeFileSync(path, WRONG);
    expect(textFrom(one, path)).toBe(CLEAR);
    // Asked for again it is what stands there now.
    expect(textFrom(one, path)).toBe(WRONG);
    expect(one.start(path)).not.toBe(key);
    writeFileSync(path, CLEAR);
    expect(one.start(path)).toBe(key);
  });

  it("never takes another file's bytes for the note's", () => {
    const folder = folderWith({ "a.md": CLEAR, "b.md": WRONG });
    const one = source();
    one.start(join(folder, "a.md"));
    readBytes(join(folder, "b.md"));
    expect(textFrom(one, join(folder, "a.md"))).toBe(CLEAR);
  });

  it("uses one state of the shop file for all notes of a run", () => {
    const folder = folderWith({ "a.md": CLEAR, "shop.yaml": "altitude: 300 m\n" });
    const shop = join(folder, "shop.yaml");
    const one = source();
    const key = one.start(join(folder, "a.md"));
    writeFileSync(shop, "altitude: 900 m\n");
    expect(textFrom(one, shop)).toBe("altitude: 300 m\n");
    expect(one.start(join(folder, "a.md"))).toBe(key);
    expect(source().start(join(folder, "a.md"))).not.toBe(key);
  });
});

describe("a log that a result rests on", () => {
  afterEach(() => {
    vi.useRealTimers();
  });
  const request: LogRequest = {
    key: "log.csv",
    path: "log.csv",
    pathRange: { from: 0, to: 7 },
    separator: ",",
    decimal: ".",
    skip: 0,
    columns: [],
    count: 2,
  };
  const seenOf = (folder: string, meanwhile: () => void = () => {}) => {
    const watch = new Watch();
    watch.start(folder);
    watch.log(request, folder, () => {
      meanwhile();
      return readLog(request, folder, folder);
    });
    return watch.seen;
  };
  const later = () => vi.setSystemTime(Date.now() + 10_000);

  it("is looked at again while a change could hide within one tick of the clock", () => {
    const folder = folderWith({ "log.csv": LOG });
    expect(stillAsSeen(folder, seenOf(folder))).toBe(false);
    vi.useFakeTimers({ toFake: ["Date"] });
    later();
    expect(stillAsSeen(folder, seenOf(folder))).toBe(true);
  });

  it("counts as changed with the same length and the same time of writing", () => {
    const folder = folderWith({ "log.csv": LOG });
    const path = join(folder, "log.csv");
    vi.useFakeTimers({ toFake: ["Date"] });
    later();
    const seen = seenOf(folder);
    const { atime, mtime } = statSync(path);
    utimesSync(path, atime, mtime);
    const again = seenOf(folder);
    writeFileSync(path, LOG.replace("100", "900"));
    utimesSync(path, atime, mtime);
    expect(statSync(path).size).toBe(LOG.length);
    expect(stillAsSeen(folder, seen)).toBe(false);
    expect(stillAsSeen(folder, again)).toBe(false);
  });

  it("is not kept where it grows while it is read", () => {
    const folder = folderWith({ "log.csv": LOG });
    const path = join(folder, "log.csv");
    vi.useFakeTimers({ toFake: ["Date"] });
    later();
    const seen = seenOf(folder, () => writeFileSync(path, `${readFileSync(path, "utf8")}1,99\n`));
    expect(stillAsSeen(folder, seen)).toBe(false);
  });
});

describe("notes of the same text with other files beside them", () => {
  it("keep their own records", async () => {
    const text = `${CLEAR}\n![lamp](lamp.jpg)\n`;
    const others = Object.fromEntries(
      Array.from({ length: 20 }, (_, i) => [`n${i}.md`, CLEAR.replace("0001", `01${i + 10}`)]),
    );
    const folder = folderWith({ ...others, "a/one.md": text, "a/lamp.jpg": "", "b/two.md": text });
    const cache = { folder: folderWith({}), build: () => "this one" };
    const asked = ["find", 'finding("note/missing-file")'];
    for (let run = 0; run < 3; run++) {
      const { out } = await runIn(folder, asked, { cache });
      expect(out).toContain("b/two.md");
      expect(out).not.toContain("a/one.md");
    }
  });
});
