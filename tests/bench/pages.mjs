// What is made from thousands of notes at once: a review of all, results for other programs, and the site. Beside
// them stands `check` of the same notes, which does the reading and checking that all of these rest on.
import { spawnSync } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { figures, printTable, times } from "./figures.mjs";

const TIME = "/usr/bin/time";

export function measurePages({ cli, generateNotes, sizes }) {
  const results = [];
  for (const size of sizes) {
    const folder = mkdtempSync(join(tmpdir(), "witness-mark-bench-"));
    try {
      const notes = join(folder, "notes");
      for (const { path, text } of generateNotes(size)) {
        mkdirSync(dirname(join(notes, path)), { recursive: true });
        writeFileSync(join(notes, path), text);
      }
      const commands = {
        check: ["check", "notes"],
        "check --format sarif": ["check", "notes", "--format", "sarif"],
        "review, as text": ["review", "notes"],
        "review, as markdown": ["review", "notes", "--format", "markdown"],
        site: ["site", "site", "notes"],
        "site, records known": ["site", "site", "notes"],
      };
      const took = Object.fromEntries(
        Object.entries(commands).map(([name, args]) => [name, run([cli, ...args], folder)]),
      );
      const site = sizeOf(join(folder, "site"));
      results.push({ notes: size, took, site });
      printTable(
        `${size} notes (one run each; the site holds ${site.files} files, ${figures(site.bytes / 1024 ** 2)} MB, its index ${figures(statSync(join(folder, "site/search-index.js")).size / 1024 ** 2)} MB)`,
        ["", "wall s", "CPU s", "memory MB", "beside check"],
        Object.entries(took).map(([name, { wall, cpu, memory }]) => [
          name,
          figures(wall),
          figures(cpu),
          figures(memory),
          times(wall / took.check.wall),
        ]),
      );
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  }
  return results;
}

function run(args, folder) {
  const report = join(folder, ".time");
  const timed = existsSync(TIME);
  const before = timed ? ["-f", "%U %S %M", "-o", report, process.execPath] : [];
  const started = performance.now();
  const { status, error } = spawnSync(timed ? TIME : process.execPath, [...before, ...args], {
    cwd: folder,
    stdio: "ignore",
    // A cache of the measurement's own, so that the first run knows nothing.
    env: { ...process.env, WITNESS_MARK_CACHE: join(folder, "cache") },
  });
  const wall = (performance.now() - started) / 1000;
  if (error || status === null || status > 1)
    throw new Error(`${args.join(" ")} failed with status ${status}.`);
  if (!timed) return { wall, cpu: Number.NaN, memory: Number.NaN };
  const [user, system, kilobytes] = readFileSync(report, "utf8")
    .trim()
    .split("\n")
    .at(-1)
    .split(" ")
    .map(Number);
  return { wall, cpu: user + system, memory: kilobytes / 1024 };
}

function sizeOf(folder) {
  let files = 0;
  let bytes = 0;
  for (const entry of readdirSync(folder, { withFileTypes: true, recursive: true })) {
    if (!entry.isFile()) continue;
    files++;
    bytes += statSync(join(entry.parentPath ?? entry.path, entry.name)).size;
  }
  return { files, bytes };
}
