// A second real client: Debian's Neovim speaks to the built server over standard input and output.
// Left out, and said so, where Neovim is not installed; in CI it must be there.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { buildBundles, removeBundles } from "../lsp/build-server.ts";

const NOTE = `---
job: 2031-0901
---

\`\`\`readings
test pressure: 0,8 psi
flow: 0.42 L/mni
lens area: 310 cm2
lens force [N] = test pressure * lens area
\`\`\`
`;

const inCI = process.env.CI === "true";
const hasNeovim = spawnSync("nvim", ["--version"]).status === 0;
let folder = "";
let bundles = "";
let seen: Record<string, unknown> = {};

beforeAll(async () => {
  if (!hasNeovim) return;
  folder = mkdtempSync(join(tmpdir(), "witness-mark-nvim-"));
  bundles = await buildBundles();
  const note = join(folder, "note.md");
  writeFileSync(note, NOTE);
  const run = spawnSync(
    "nvim",
    [
      "--headless",
      "-u",
      "NONE",
      "-i",
      "NONE",
      "-n",
      "+set filetype=markdown",
      `+luafile ${join(import.meta.dirname, "neovim.lua")}`,
      note,
    ],
    {
      cwd: folder,
      encoding: "utf8",
      timeout: 90_000,
      env: { ...process.env, WITNESS_MARK_SERVER: join(bundles, "server.js") },
    },
  );
  const line = `${run.stdout}\n${run.stderr}`.split("\n").find((text) => text.startsWith("SEEN "));
  if (!line) throw new Error(`Neovim said nothing that could be read:\n${run.stdout}\n${run.stderr}`);
  seen = JSON.parse(line.slice(5));
}, 120_000);

afterAll(() => {
  if (folder) rmSync(folder, { recursive: true, force: true });
  if (bundles) removeBundles(bundles);
});

test("Neovim is there in CI", () => {
  if (!hasNeovim) console.log("Left out: the tests with Neovim, which is not installed here.");
  expect(hasNeovim || !inCI).toBe(true);
});

test("Neovim shows findings, hover, a mend and a rename", () => {
  if (!hasNeovim) return;
  expect(seen.first).toEqual(["unit/decimal-comma", "unit/unknown"]);
  expect(seen.hover).toContain("lens force");
  expect(seen.mended).toBe("test pressure: 0.8 psi");
  expect(seen.after).toEqual(["unit/unknown"]);
  expect(seen.text).toContain("glass area: 310 cm2");
  expect(seen.text).toContain("lens force [N] = test pressure * glass area");
});
