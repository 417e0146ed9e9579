// From the start of the server's process to its answer to `initialize`.
import { startServer } from "./editor.mjs";
import { figures, median, printTable, times, verdict } from "./figures.mjs";

const AIM = 1.2;

export async function measureStartUp({ server, bareServer, runs }) {
  const rounds = Math.max(9, runs);
  const took = { ours: [], bare: [] };
  for (let round = 0; round <= rounds; round++) {
    for (const [name, script] of [
      ["ours", server],
      ["bare", bareServer],
    ]) {
      const running = await startServer(script);
      await running.stop();
      // The first round fills the system's file cache.
      if (round > 0) took[name].push(running.answered);
    }
  }
  const result = { own: median(took.ours), baseline: median(took.bare) };
  const ratio = result.own / result.baseline;
  printTable(
    `Server start to answered initialize, ms (median of ${rounds}, in turn with a bare vscode-languageserver)`,
    ["", "ours", "bare", "ratio", "aim", ""],
    [
      [
        "initialize",
        figures(result.own),
        figures(result.baseline),
        times(ratio),
        `${AIM} x`,
        verdict(ratio <= AIM),
      ],
    ],
  );
  return { ...result, ratio, most: AIM };
}
