// One character typed or deleted, each awaited until the findings of that version are published.
import { startServer } from "./editor.mjs";
import { keystrokes } from "./edits.mjs";
import { figures, printTable, quantile, times, verdict } from "./figures.mjs";

// Ratios to the bare server that the aims of 2 / 5 ms and 8 / 16 ms came to where they were set.
const AIMS = {
  100: undefined,
  1000: { p50: 2, p95: 5, ratio50: 6, ratio95: 5 },
  10000: { p50: 8, p95: 16, ratio50: 12, ratio95: 10 },
};
const MEMORY_AIM = 1.5;
const WARM_UP = 40;
const EDITS = 200;

export async function measureKeystrokes({ server, bareServer, generateLongNote }) {
  const results = [];
  const memories = [];
  for (const [size, aim] of Object.entries(AIMS)) {
    const text = generateLongNote(Number(size));
    const edits = keystrokes(text, WARM_UP + EDITS);
    const ours = await startServer(server);
    const bare = await startServer(bareServer);
    const uri = "file:///notes/long.md";
    const findings = await ours.open(uri, text);
    await bare.open(uri, text);
    const took = { ours: [], bare: [] };
    // In turn, so that whatever else the computer does falls on both.
    for (const [index, edit] of edits.entries()) {
      const oursTook = await ours.change(uri, index + 2, edit);
      const bareTook = await bare.change(uri, index + 2, edit);
      if (index < WARM_UP) continue;
      took.ours.push(oursTook);
      took.bare.push(bareTook);
    }
    const memory = { ours: ours.memory(), bare: bare.memory() };
    await Promise.all([ours.stop(), bare.stop()]);
    for (const [name, share] of [
      ["p50", 0.5],
      ["p95", 0.95],
    ]) {
      const own = quantile(took.ours, share);
      const baseline = quantile(took.bare, share);
      const most = aim && { ms: aim[name], ratio: aim[`ratio${name.slice(1)}`] };
      results.push({ lines: Number(size), findings, name, own, baseline, ratio: own / baseline, most });
    }
    memories.push({ lines: Number(size), ...memory });
  }
  printTable(
    `Keystroke to published findings, ms (${EDITS} edits; beside a bare vscode-languageserver that finds nothing)`,
    ["note", "findings", "", "ours", "bare", "ratio", "aim", ""],
    results.map(({ lines, findings, name, own, baseline, ratio, most }) => [
      `${lines} lines`,
      findings,
      name,
      figures(own),
      figures(baseline),
      times(ratio),
      most ? `${most.ms} ms or ${most.ratio} x` : "",
      verdict(most && (own <= most.ms || ratio <= most.ratio)),
    ]),
  );
  printTable(
    "Most memory held while these edits were made, MB",
    ["note", "ours", "bare", "ratio", "aim", ""],
    memories.map(({ lines, ours, bare }) => [
      `${lines} lines`,
      figures(ours),
      figures(bare),
      times(ours / bare),
      `${MEMORY_AIM} x`,
      verdict(ours <= MEMORY_AIM * bare),
    ]),
  );
  return [...results, ...memories];
}
