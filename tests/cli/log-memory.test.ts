import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { beforeAll, expect, it } from "vitest";
import { makeBundles } from "../../server/build/bundles.mjs";
import { folderWith } from "./run-in.ts";

const dist = folderWith({});

beforeAll(async () => {
  await makeBundles(dist, { names: ["cli", "checker", "procedures", "yaml", "markdown", "logs"] });
}, 60_000);

it("checks a note with a log of a million rows in under 300 MB", () => {
  const lines = ["time,pressure,temperature"];
  for (let i = 0; i < 1_000_000; i++) lines.push(`${i / 10},${(3000 - i * 0.001).toFixed(3)},19.5`);
  const folder = folderWith({
    "log.csv": lines.join("\n"),
    "note.md":
      "---\njob: long\n---\n\n```series log\nfrom: log.csv\nt [s], p [Pa], T [degC]\n```\n\n```readings\nrate [Pa/s] = slope(log p, log t)\nn = count(log T)\n```\n\n```limits\nlog p <= 4 kPa\n```\n",
  });
  // The process tells its own peak when it ends.
  const watch =
    "process.on('exit', () => process.stderr.write('peak ' + process.resourceUsage().maxRSS)); require(process.argv[1]);";
  const cli = join(dist, "cli.js");
  const ran = spawnSync(process.execPath, ["-e", watch, cli, "check", "note.md", "--format", "json"], {
    cwd: folder,
    encoding: "utf8",
  });
  const result: unknown = JSON.parse(ran.stdout);
  expect(result).toMatchObject({
    notes: [{ findings: [], values: [{ name: "rate" }, { value: 1_000_000 }] }],
  });
  const peak = Number(/peak (\d+)/.exec(ran.stderr)?.[1]);
  expect(peak / 1024).toBeGreaterThan(40);
  expect(peak / 1024).toBeLessThan(300);
}, 60_000);
