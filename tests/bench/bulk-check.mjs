// `check` of many notes in a folder, beside a general markdown linter on the same files and beside only
// reading them.
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { figures, median, printTable, times, verdict } from "./figures.mjs";

const AIM_LINTER = 1 / 30;
const AIM_READING = 9;
const TIME = "/usr/bin/time";

export function measureBulkCheck({ cli, linter, readOnly, generateNotes, sizes, runs }) {
  const results = [];
  for (const size of sizes) {
    const folder = mkdtempSync(join(tmpdir(), "witness-mark-bench-"));
    try {
      writeNotes(folder, generateNotes(size));
      const commands = {
        ours: [cli, "check", "."],
        reading: [readOnly],
        linter: [linter, "**/*.md"],
      };
      // The linter takes most of a minute for ten thousand notes, so by default it runs once on them.
      const linterRuns = size >= 10_000 ? Math.max(1, runs - 4) : 3;
      run(commands.reading, folder);
      const took = { ours: [], reading: [], linter: [] };
      for (let round = 0; round < Math.max(5, runs); round++) {
        took.ours.push(run(commands.ours, folder));
        took.reading.push(run(commands.reading, folder));
        if (round < linterRuns) took.linter.push(run(commands.linter, folder));
      }
      results.push({
        notes: size,
        ...Object.fromEntries(Object.entries(took).map(([name, all]) => [name, middle(all)])),
      });
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  }
  for (const { notes, ours, linter: lint, reading } of results) {
    const big = notes >= 10_000;
    const row = (name, own, aim) => [
      name,
      figures(own.wall),
      figures(own.cpu),
      figures(own.memory),
      ...(own === ours
        ? ["", "", ""]
        : [times(ours.wall / own.wall), ...(big ? aim(ours.wall / own.wall) : ["", ""])]),
    ];
    printTable(
      `check of ${notes} notes, file cache warm (medians of ${ours.runs}, ${lint.runs}, ${reading.runs} runs in turn)`,
      ["", "wall s", "CPU s", "memory MB", "ours is", "aim", ""],
      [
        row("witness-mark check", ours),
        row("markdownlint-cli2", lint, (ratio) => ["1/30", verdict(ratio <= AIM_LINTER)]),
        row("only reading the files", reading, (ratio) => [
          `${AIM_READING} x`,
          verdict(ratio <= AIM_READING),
        ]),
      ],
    );
  }
  return results;
}

function writeNotes(folder, notes) {
  const config = { config: { MD013: false, MD036: false }, noBanner: true, noProgress: true };
  writeFileSync(join(folder, ".markdownlint-cli2.jsonc"), JSON.stringify(config));
  const made = new Set();
  for (const { path, text } of notes) {
    const file = join(folder, path);
    if (!made.has(dirname(file))) mkdirSync(dirname(file), { recursive: true });
    made.add(dirname(file));
    writeFileSync(file, text);
  }
}

/** Runs a script on the folder; wall and processor seconds, and the most memory it held at once. */
function run(args, folder) {
  const report = join(folder, ".time");
  const timed = existsSync(TIME);
  const command = timed ? TIME : process.execPath;
  const before = timed ? ["-f", "%U %S %M", "-o", report, process.execPath] : [];
  const started = performance.now();
  const { status, error } = spawnSync(command, [...before, ...args], {
    cwd: folder,
    stdio: "ignore",
    // Every check does the whole work; what keeping results gains is measured by itself.
    env: { ...process.env, WITNESS_MARK_CACHE: "off" },
  });
  const wall = (performance.now() - started) / 1000;
  // Both checkers end with 1 when they found something.
  if (error || status === null || status > 1) throw new Error(`${args[0]} failed with status ${status}.`);
  if (!timed) return { wall, cpu: Number.NaN, memory: Number.NaN };
  // A line on the exit status may stand before the figures.
  const [user, system, kilobytes] = readFileSync(report, "utf8")
    .trim()
    .split("\n")
    .at(-1)
    .split(" ")
    .map(Number);
  return { wall, cpu: user + system, memory: kilobytes / 1024 };
}

function middle(all) {
  const of = (key) => median(all.map((one) => one[key]));
  return { runs: all.length, wall: of("wall"), cpu: of("cpu"), memory: of("memory") };
}
