// Runs every test and closes with one line that counts them. The tests in a real editor need a browser and a
// served workbench; without them they are left out, and that is said. In CI nothing may be left out.
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";

const root = join(import.meta.dirname, "..");
const reports = join(root, ".cache", "tests");
rmSync(reports, { recursive: true, force: true });
mkdirSync(reports, { recursive: true });
const inCI = process.env.CI === "true" || process.env.CI === "1";

let passed = 0;
let failed = 0;

function vitest(name, args) {
  const report = join(reports, `${name}.json`);
  const run = spawnSync(
    process.execPath,
    [
      join(root, "node_modules/vitest/vitest.mjs"),
      "run",
      "--reporter=default",
      "--reporter=json",
      `--outputFile.json=${report}`,
      ...args,
    ],
    { cwd: root, stdio: "inherit" },
  );
  const counts = existsSync(report) ? JSON.parse(readFileSync(report, "utf8")) : undefined;
  passed += counts?.numPassedTests ?? 0;
  failed += counts?.numFailedTests ?? 0;
  // A file that cannot even load fails without a failed test in it.
  if (run.status !== 0 && !(counts?.numFailedTests > 0)) failed += 1;
  const left = counts ? counts.numPendingTests + counts.numTodoTests : 0;
  if (inCI && left > 0) {
    console.error(`${left} tests were left out, which CI does not allow.`);
    failed += left;
  }
}

vitest("project", process.argv.slice(2));

if (inCI && !step("bash", ["tests/host/setup.sh"])) {
  console.error("The real editor could not be set up, which CI does not allow.");
  failed += 1;
} else if (hostReady()) {
  if (step("npm", ["run", "--silent", "package"]))
    vitest("host", ["--config", "tests/host/vitest.config.ts"]);
  else failed += 1;
} else {
  console.log(
    "\nLeft out: the tests in a real editor (tests/host), as no browser and served workbench are set up here.\n" +
      "To run them too: bash tests/host/setup.sh && npm test",
  );
}

console.log(`\n${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 || passed === 0 ? 1 : 0;

function step(command, args) {
  return spawnSync(command, args, { cwd: root, stdio: "inherit" }).status === 0;
}

function hostReady() {
  const browser = process.env.WITNESS_MARK_CHROMIUM ?? "/usr/bin/chromium";
  return existsSync(join(root, "tests/host/.cache/installed")) && existsSync(browser);
}
