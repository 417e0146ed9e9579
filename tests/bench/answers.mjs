// One character typed or deleted and a question right behind it, as an editor sends them: each awaited until the
// answer has come. The hints are asked for the lines that a window shows.
import { startServer } from "./editor.mjs";
import { keystrokes } from "./edits.mjs";
import { figures, printTable, quantile, times, verdict } from "./figures.mjs";

const AIMS = {
  1000: { p50: 2, p95: 5, ratio50: 6, ratio95: 5 },
  10000: { p50: 8, p95: 16, ratio50: 12, ratio95: 10 },
};
const QUESTIONS = {
  hints: ["textDocument/inlayHint", ({ line }) => ({ range: windowRound(line) })],
  hover: ["textDocument/hover", ({ line }) => ({ position: { line, character: 2 } })],
  completion: ["textDocument/completion", (position) => ({ position })],
};
const WINDOW = 60;
const WARM_UP = 40;
const EDITS = 120;

function windowRound(line) {
  const first = Math.max(0, line - WINDOW / 2);
  return { start: { line: first, character: 0 }, end: { line: first + WINDOW, character: 0 } };
}

export async function measureAnswers({ server, bareServer, generateLongNote }) {
  const results = [];
  for (const [size, aim] of Object.entries(AIMS)) {
    const text = generateLongNote(Number(size));
    for (const [question, [method, paramsAt]] of Object.entries(QUESTIONS)) {
      const ours = await startServer(server);
      const bare = await startServer(bareServer);
      const uri = "file:///notes/long.md";
      await ours.open(uri, text);
      await bare.open(uri, text);
      const took = { ours: [], bare: [] };
      for (const [index, edit] of keystrokes(text, WARM_UP + EDITS).entries()) {
        const params = paramsAt(edit.range.start);
        const oursTook = await ours.changeAndAsk(uri, index + 2, edit, method, params);
        const bareTook = await bare.changeAndAsk(uri, index + 2, edit, method, params);
        if (index < WARM_UP) continue;
        took.ours.push(oursTook);
        took.bare.push(bareTook);
      }
      await Promise.all([ours.stop(), bare.stop()]);
      for (const [name, share] of [
        ["p50", 0.5],
        ["p95", 0.95],
      ]) {
        const own = quantile(took.ours, share);
        const baseline = quantile(took.bare, share);
        const most = { ms: aim[name], ratio: aim[`ratio${name.slice(1)}`] };
        results.push({ lines: Number(size), question, name, own, baseline, ratio: own / baseline, most });
      }
    }
  }
  printTable(
    `Keystroke to an answer, ms (${EDITS} edits; beside a bare vscode-languageserver that answers with nothing)`,
    ["note", "question", "", "ours", "bare", "ratio", "aim", ""],
    results.map(({ lines, question, name, own, baseline, ratio, most }) => [
      `${lines} lines`,
      question,
      name,
      figures(own),
      figures(baseline),
      times(ratio),
      `${most.ms} ms or ${most.ratio} x`,
      verdict(own <= most.ms || ratio <= most.ratio),
    ]),
  );
  return results;
}
