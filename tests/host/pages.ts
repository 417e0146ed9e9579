import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import axe from "axe-core";
import { type Browser, chromium, type Page } from "playwright-core";
import { chromiumPath, projectRoot } from "./paths.ts";

/** A browser by itself, for the pages that the command line makes. */
export function openBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: chromiumPath,
    args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"],
  });
}

/** A folder that is gone when the tests end, however they end. */
export function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "witness-mark-pages-"));
  process.once("exit", () => rmSync(folder, { recursive: true, force: true, maxRetries: 5 }));
  return folder;
}

/** Runs the built command line in a folder. */
export function witnessMark(folder: string, ...args: readonly string[]): string {
  const cli = join(projectRoot, "dist/cli.js");
  if (!existsSync(cli)) throw new Error("The command line is not built yet: run `npm run build` first.");
  const ran = spawnSync(process.execPath, [cli, ...args], {
    cwd: folder,
    encoding: "utf8",
    env: { ...process.env, WITNESS_MARK_CACHE: "off" },
  });
  if (ran.status !== 0) throw new Error(`It ended with ${ran.status}: ${ran.stderr}`);
  return ran.stdout;
}

/** What axe finds wrong with a page: rule, element, and what to do. */
export async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  return page.evaluate(async () => {
    const { axe: checker } = globalThis as unknown as { axe: typeof import("axe-core") };
    // Looking into style sheets would need a fetch, which the pages forbid themselves.
    const { violations: found } = await checker.run(document, {
      resultTypes: ["violations"],
      preload: false,
    });
    return found.flatMap(({ id, nodes }) =>
      nodes.map((node) => `${id}: ${node.html}: ${node.failureSummary}`),
    );
  });
}

/** Lists what a page writes to the console and what it throws, from now on. */
export function complaintsOf(page: Page): string[] {
  const complaints: string[] = [];
  page.on("console", (message) => complaints.push(message.text()));
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("requestfailed", (request) => {
    // Going on to the next page breaks off what the last one was still fetching.
    if (request.failure()?.errorText !== "net::ERR_ABORTED") complaints.push(`failed: ${request.url()}`);
  });
  return complaints;
}
