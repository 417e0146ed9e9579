// Prints, for each procedure, what a job brings with one step left out or two neighbours swapped: the change,
// the findings expected by hand, those that came, and whether they are the same. Ends with status 1 when any
// differ, or when a built-in procedure has no table.
import { spawnSync } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";

const root = join(import.meta.dirname, "..", "..");
const report = join(root, ".cache", "tests", "matrix.json");
mkdirSync(join(root, ".cache", "tests"), { recursive: true });
rmSync(report, { force: true });
const run = spawnSync(
  process.execPath,
  [
    join(root, "node_modules/vitest/vitest.mjs"),
    "run",
    "tests/sequence",
    "--reporter=json",
    `--outputFile=${report}`,
    "-t",
    "as it stands|without `|before the step above it",
  ],
  { cwd: root, stdio: ["ignore", "ignore", "inherit"] },
);
const { testResults } = JSON.parse(readFileSync(report, "utf8"));
const entries = testResults.flatMap((file) =>
  file.assertionResults.flatMap((test) => (test.meta?.matrix ? [test.meta.matrix] : [])),
);

const shown = (findings) => (findings.length === 0 ? "nothing" : findings.join("; "));
const same = ({ expected, got }) => JSON.stringify(expected) === JSON.stringify(got);

/** Entries by the job that they change, in order. */
function grouped(all) {
  const jobs = new Map();
  for (const one of all) {
    const title = `${one.procedure}: ${one.job}`;
    jobs.set(title, [...(jobs.get(title) ?? []), one]);
  }
  return jobs;
}

for (const [job, rows] of grouped(entries)) {
  const table = [
    ["change", "expected", "got", "same"],
    ...rows.map((one) => [one.change, shown(one.expected), shown(one.got), same(one) ? "yes" : "NO"]),
  ];
  console.log(`\n## ${job}\n`);
  table.forEach((cells, i) => {
    console.log(`| ${cells.join(" | ")} |`);
    if (i === 0) console.log("| --- | --- | --- | --- |");
  });
}

const differing = entries.filter((one) => !same(one)).length;
const procedures = readdirSync(join(root, "server/src/procedures"))
  .filter((name) => name.endsWith(".yaml") && name !== "common-steps.yaml")
  .map((name) => name.replace(/\.yaml$/, ""));
const without = procedures.filter((id) => !entries.some((one) => one.procedure === id));
console.log(
  `\n${entries.length} changes to jobs of ${procedures.length - without.length} procedures, ${differing} other than expected`,
);
if (without.length > 0) console.log(`No table for ${without.join(", ")}.`);
if (run.status !== 0 || differing > 0 || without.length > 0) process.exitCode = 1;
