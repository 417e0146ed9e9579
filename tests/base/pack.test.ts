import { mkdtempSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { keyOf, Pack } from "../../server/src/host/pack.ts";

const folder = mkdtempSync(join(tmpdir(), "witness-mark-pack-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const path = join(folder, "deep", "a.pack");
const fill = (build = "one"): Pack => {
  const pack = Pack.open(path, build);
  for (let i = 0; i < 50; i++) pack.set(keyOf(`key ${i}`), Buffer.from(`entry ${i} ${"°".repeat(i)}`));
  pack.save();
  return pack;
};
const entry = (pack: Pack, i: number): string | undefined => pack.get(keyOf(`key ${i}`))?.toString();

describe("results kept between runs", () => {
  it("come back as they were, for the same build only", () => {
    fill();
    const again = Pack.open(path, "one");
    expect(again.size).toBe(50);
    expect(entry(again, 7)).toBe(`entry 7 ${"°".repeat(7)}`);
    expect(entry(again, 50)).toBeUndefined();
    expect(Pack.open(path, "two").size).toBe(0);
    expect(readdirSync(join(folder, "deep"))).toEqual(["a.pack"]);
  });

  it("are as good as not there when any byte of them is another, or the end is missing", () => {
    fill();
    const whole = readFileSync(path);
    for (let at = 0; at < whole.length; at += 13) {
      const damaged = Buffer.from(whole);
      damaged.writeUInt8((damaged.readUInt8(at) + 1) % 256, at);
      writeFileSync(path, damaged);
      expect(Pack.open(path, "one").size, `byte ${at}`).toBe(0);
    }
    for (const length of [0, 5, 60, 100, whole.length - 1]) {
      writeFileSync(path, whole);
      truncateSync(path, length);
      expect(Pack.open(path, "one").size, `${length} bytes`).toBe(0);
    }
    writeFileSync(path, whole);
    expect(Pack.open(path, "one").size).toBe(50);
  });

  it("are read back by the run that took them down, before and among those left from before", () => {
    fill();
    const pack = Pack.open(path, "one");
    const large = Buffer.alloc(3_000_000, 7);
    for (let i = 60; i < 70; i++) {
      pack.set(keyOf(`key ${i}`), Buffer.from(`entry ${i}`));
      expect(entry(pack, i)).toBe(`entry ${i}`);
      expect(entry(pack, 60)).toBe("entry 60");
    }
    pack.set(keyOf("large"), large);
    expect(pack.get(keyOf("large"))?.equals(large)).toBe(true);
    // What an entry rests on may have changed while its key did not: the new one counts.
    pack.set(keyOf("key 7"), Buffer.from("new"));
    expect([entry(pack, 7), entry(pack, 8), entry(pack, 65)]).toEqual([
      "new",
      `entry 8 ${"°".repeat(8)}`,
      "entry 65",
    ]);
    pack.save();
    const again = Pack.open(path, "one");
    expect([again.size, entry(again, 7), entry(again, 69)]).toEqual([61, "new", "entry 69"]);
    expect(again.get(keyOf("large"))?.equals(large)).toBe(true);
  });

  it("are not written again when nothing is new", () => {
    fill();
    rmSync(path);
    const pack = Pack.open(path, "one");
    pack.save();
    expect(readdirSync(join(folder, "deep"))).toEqual([]);
  });

  it("may not be possible to keep, which is no fault", () => {
    writeFileSync(join(folder, "file"), "");
    const pack = Pack.open(join(folder, "file", "a.pack"), "one");
    pack.set(keyOf("a"), Buffer.from("b"));
    expect(pack.get(keyOf("a"))).toBeUndefined();
    expect(() => pack.save()).not.toThrow();
  });

  it("have keys whose parts do not run into each other", () => {
    expect(keyOf("ab", "c")).not.toBe(keyOf("a", "bc"));
    expect(keyOf("a")).not.toBe(keyOf("a", ""));
    expect(keyOf("a", "b")).toBe(keyOf("a", "b"));
  });
});
