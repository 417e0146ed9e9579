import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import type { Page } from "playwright-core";
import { visibleLines } from "./editor-dom.ts";
import { outputFolder } from "./paths.ts";

/** Patience for one thing to appear. Long, because the machine may be busy with other work. */
export const PATIENCE_MS = 60_000;
/** How long one try of a gesture may take before it is made again; the editor swallows a few of them. */
export const GESTURE_MS = 4_000;

/**
 * Tries until the step gives something other than false and does not fail. What the editor swallowed once is
 * asked again; when the patience is over, a picture and the last failure tell what stood in the way.
 */
export async function until<T>(page: Page, what: string, step: () => Promise<T | false>): Promise<T> {
  const deadline = Date.now() + PATIENCE_MS;
  let failure: unknown;
  while (Date.now() < deadline) {
    try {
      const result = await step();
      if (result !== false) return result;
    } catch (error) {
      failure = error;
    }
    await pause(200);
  }
  await page.screenshot({ path: join(outputFolder, `failed-${Date.now()}.png`) });
  const lines = (await visibleLines(page)).join("\n");
  throw new Error(`Waited in vain for ${what}. In view were:\n${lines}`, { cause: failure });
}
