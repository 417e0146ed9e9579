import { setTimeout as pause } from "node:timers/promises";
import type { Page } from "playwright-core";
import { dom, drawnProblems } from "./editor-dom.ts";
import { GESTURE_MS, until } from "./patience.ts";

const SCROLL_SETTLE_MS = 150;

/** What the Problems panel lists, from its first row to its last; the panel is opened when it is not. */
export async function problemsRows(page: Page): Promise<string[]> {
  await openProblems(page);
  const box = await page.locator(dom.problemsPanel).boundingBox();
  if (box === null) return [];
  // The panel only draws the rows in view, so the list is rolled through, from its top and back to it.
  await page.mouse.move(box.x + box.width - 60, box.y + box.height - 20);
  await rollToTop(page, box.height);
  const rows = new Map<number, string>();
  // Two looks in a row without a new row: a slow machine may not have rolled yet at the first.
  for (let stale = 0; stale < 2; ) {
    const known = rows.size;
    await pause(SCROLL_SETTLE_MS);
    for (const row of await drawnProblems(page)) rows.set(row.index, row.text);
    stale = rows.size > known ? 0 : stale + 1;
    await page.mouse.wheel(0, box.height / 2);
  }
  await rollToTop(page, box.height);
  await restPointer(page);
  return [...rows].sort(([a], [b]) => a - b).map(([, text]) => text);
}

/** Puts the pointer on the empty part of the title bar, where nothing answers to it. */
export async function restPointer(page: Page): Promise<void> {
  await page.mouse.move(1100, 8);
}

async function openProblems(page: Page): Promise<void> {
  await until(page, "the Problems panel", async () => {
    if (await page.isVisible(dom.problemsPanel)) return true;
    await page.keyboard.press("Control+Shift+m");
    await page.waitForSelector(dom.problemsPanel, { timeout: GESTURE_MS });
    return true;
  });
}

async function rollToTop(page: Page, stride: number): Promise<void> {
  for (let tries = 0; tries < 50; tries++) {
    const drawn = await drawnProblems(page);
    await page.mouse.wheel(0, -stride);
    await pause(SCROLL_SETTLE_MS);
    if (drawn.length === 0 || drawn.some((row) => row.index === 0)) return;
  }
}
