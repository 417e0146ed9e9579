import type { Frame, Page } from "playwright-core";
import { GESTURE_MS, until } from "./patience.ts";

/** The frame in which the editor draws the markdown preview: a page within a page within the workbench. */
export async function sheetFrame(page: Page): Promise<Frame> {
  return until(page, "the preview with a job sheet", async () => {
    for (const frame of page.frames()) {
      if (frame.parentFrame() === null) continue;
      if ((await frame.locator(".wm-sheet").count()) > 0) return frame;
    }
    return false;
  });
}

/** Waits until the preview shows the text somewhere on the sheet. */
export async function waitForSheetText(page: Page, text: string): Promise<void> {
  await until(page, `"${text}" on the job sheet`, async () => {
    const frame = await sheetFrame(page);
    return (await frame.locator(".wm-sheet", { hasText: text }).count()) > 0;
  });
}

/** Scrolls the preview until the element is in view. */
export async function scrollSheetTo(page: Page, selector: string): Promise<void> {
  const frame = await sheetFrame(page);
  await frame.locator(selector).first().scrollIntoViewIfNeeded({ timeout: GESTURE_MS });
}
