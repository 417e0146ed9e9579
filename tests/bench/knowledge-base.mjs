// A folder of many notes as a knowledge base: how long reading it all takes, cold and from the cache, how much
// memory that needs, how fast a question is answered once it is read, and a second `check` of the same notes.
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { figures, median, printTable, quantile, times, verdict } from "./figures.mjs";

const AIM_MEMORY = 300;
const AIM_FIND = 30;
const AIM_WARM_CHECK = 2;
const TIME = "/usr/bin/time";

/** Questions of the kinds that are asked: numbers, words of the front matter, days, steps, findings. */
const QUESTIONS = [
  "leak size > 0.5 mm",
  'leak size > 0.5 mm and procedure is "lamp-moisture"',
  "supply current <= 9 A and bay humidity > 60 %",
  'date >= "2035" and test pressure > 12 inH2O',
  'done("locate") and not done("seal")',
  'finding("unit") or errors > 2',
  "draw / battery capacity > 0.05 1/h",
  'says(complaint, "coolant") and vehicle year >= 2020',
  'duration("dry") > 5 min',
  "has(medium) and leak size * 2 > 1 mm",
];
const WORDS = ["radiator clamp", "droplets lens", "breathr seam", "smell of fuel"];

export async function measureKnowledgeBase({ cli, readOnly, generateNotes, loadBase, notes, runs }) {
  const folder = mkdtempSync(join(tmpdir(), "witness-mark-bench-"));
  const cache = mkdtempSync(join(tmpdir(), "witness-mark-bench-cache-"));
  const env = { ...process.env, WITNESS_MARK_CACHE: cache };
  try {
    writeNotes(folder, generateNotes(notes));
    const run = (args) => timed(args, folder, env);
    const reading = [];
    run([readOnly]);
    for (let i = 0; i < runs; i++) reading.push(run([readOnly]));
    const find = [cli, "find", QUESTIONS[0]];
    const forget = () => rmSync(cache, { recursive: true, force: true });
    const cold = [];
    for (let i = 0; i < Math.max(1, runs - 3); i++) {
      forget();
      cold.push(run(find));
    }
    const warm = [];
    for (let i = 0; i < runs; i++) warm.push(run(find));
    const check = [cli, "check", "."];
    const coldCheck = run(check);
    const warmCheck = [];
    for (let i = 0; i < runs; i++) warmCheck.push(run(check));

    const floor = middle(reading);
    const row = (name, one, aim, met) => [
      name,
      figures(one.wall),
      figures(one.cpu),
      figures(one.memory),
      times(one.wall / floor.wall),
      aim ?? "",
      verdict(met),
    ];
    const index = middle(cold);
    const again = middle(warmCheck);
    printTable(
      `A knowledge base of ${notes} notes (medians of ${runs}; beside only reading the files)`,
      ["", "wall s", "CPU s", "memory MB", "beside reading", "aim", ""],
      [
        row("only reading the files", floor),
        row("index and find, nothing kept", index, `${AIM_MEMORY} MB`, index.memory <= AIM_MEMORY),
        row("find, records kept", middle(warm)),
        row("check, nothing kept", coldCheck),
        row("check again", again, `${AIM_WARM_CHECK} x`, again.wall <= AIM_WARM_CHECK * floor.wall),
      ],
    );

    const { answer, words } = await loadBase(folder);
    const asked = timesOf(QUESTIONS, answer, 10);
    const said = timesOf(WORDS, words, 10);
    const p95 = quantile(asked, 0.95);
    printTable(
      `One question over ${notes} notes that are read already, ms (${QUESTIONS.length} conditions, ${WORDS.length} searches for words, 10 times each)`,
      ["", "p50", "p95", "aim", ""],
      [
        [
          "find by condition",
          figures(median(asked)),
          figures(p95),
          `p95 ${AIM_FIND}`,
          verdict(p95 <= AIM_FIND),
        ],
        ["find by words", figures(median(said)), figures(quantile(said, 0.95)), "", ""],
      ],
    );
    return {
      notes,
      reading: floor,
      index,
      find: middle(warm),
      coldCheck,
      warmCheck: again,
      asked: { p50: median(asked), p95 },
      words: { p50: median(said), p95: quantile(said, 0.95) },
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
    rmSync(cache, { recursive: true, force: true });
  }
}

/** Milliseconds of each asking, the first round of all left out. */
function timesOf(questions, ask, rounds) {
  const took = [];
  for (let round = 0; round <= rounds; round++) {
    for (const question of questions) {
      const started = performance.now();
      ask(question);
      if (round > 0) took.push(performance.now() - started);
    }
  }
  return took;
}

function writeNotes(folder, notes) {
  const made = new Set();
  for (const { path, text } of notes) {
    const file = join(folder, path);
    if (!made.has(dirname(file))) mkdirSync(dirname(file), { recursive: true });
    made.add(dirname(file));
    writeFileSync(file, text);
  }
}

function timed(args, folder, env) {
  const report = join(folder, ".time");
  const measured = existsSync(TIME);
  const before = measured ? ["-f", "%U %S %M", "-o", report, process.execPath] : [];
  const started = performance.now();
  const { status, error } = spawnSync(measured ? TIME : process.execPath, [...before, ...args], {
    cwd: folder,
    stdio: "ignore",
    env,
  });
  const wall = (performance.now() - started) / 1000;
  if (error || status === null || status > 1)
    throw new Error(`${args.join(" ")} failed with status ${status}.`);
  if (!measured) return { wall, cpu: Number.NaN, memory: Number.NaN };
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
