import { copyFileSync, mkdirSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { contrasts } from "./contrast.ts";
import { scrollSheetTo, sheetFrame, waitForSheetText } from "./job-sheet.ts";
import { outputFolder, samplesFolder, screenshotsFolder, vsixPath } from "./paths.ts";
import { until } from "./patience.ts";
import { Workbench } from "./workbench.ts";

const WORDS = [
  "th",
  "td",
  ".wm-remark",
  ".wm-rule",
  ".wm-missing",
  "dt",
  "dd",
  "caption",
  "code",
  ".wm-tally",
];
const LINES = [".wm-line", ".wm-dots circle", ".wm-axis", ".wm-mark path"];
const SAMPLE = "telematics-box-apprentice.md";
const updateScreenshots = process.env.UPDATE_SCREENSHOTS === "1";

describe("the job sheet in the built-in markdown preview", () => {
  let workbench: Workbench;

  const picture = async (name: string): Promise<void> => {
    const path = join(outputFolder, `${name}.png`);
    await workbench.screenshot(path);
    if (!updateScreenshots) return;
    mkdirSync(screenshotsFolder, { recursive: true });
    copyFileSync(path, join(screenshotsFolder, `${name}.png`));
  };

  /** How bright the sheet's ink is, 0 to 255; the editor's greys have their channels nearly equal. */
  const brightness = async (): Promise<number> => {
    const frame = await sheetFrame(workbench.page);
    const sheet = frame.locator(".wm-sheet").first();
    const ink = await sheet.evaluate((element) => getComputedStyle(element).color);
    return Number(/\d+/.exec(ink)?.[0]);
  };

  beforeAll(async () => {
    workbench = await Workbench.start({ vsix: vsixPath, folder: samplesFolder });
    workbench.changeSettings({ "workbench.colorTheme": "Default Dark Modern" });
    await workbench.openFile(SAMPLE);
    await workbench.waitForSquiggle();
    await workbench.runCommand("View: Close Primary Side Bar");
    await workbench.runCommand("Witness Mark: Show the job sheet");
  });

  afterAll(async () => {
    await workbench?.stop();
  });

  it("shows readings as a table with results, uncertainty and findings in words", async () => {
    const frame = await sheetFrame(workbench.page);
    await waitForSheetText(workbench.page, "real cover force");
    const readings = await frame.locator(".wm-readings").first().textContent();
    expect(readings).toContain("± (k = 2)");
    expect(readings).toMatch(/real cover force21\.\d lbf1\.\d lbf/);
    expect(readings).toContain("Error.");
    await workbench.screenshot(join(outputFolder, "job-sheet-top.png"));
  });

  it("takes the uncertainty of an instrument from the shop file", async () => {
    const frame = await sheetFrame(workbench.page);
    const row = frame.locator(".wm-readings tr", { hasText: "test pressure" }).first();
    expect(await row.textContent()).toMatch(/0\.70 psi0\.0\d+ psiwith P1, at 11:10/);
  });

  it("draws the series as a plot, and nothing on the page runs or breaks the page's own policy", async () => {
    const frame = await sheetFrame(workbench.page);
    await scrollSheetTo(workbench.page, ".wm-plot");
    const plot = frame.locator(".wm-plot");
    expect(await plot.getAttribute("aria-label")).toContain("decay: p in psi against t in s, 5 points");
    expect(await frame.locator(".wm-sheet script, .wm-sheet [onclick], .wm-sheet [style]").count()).toBe(0);
    await picture("job-sheet-dark");
  });

  it("shows the steps as a timeline with those still to do", async () => {
    const frame = await sheetFrame(workbench.page);
    await scrollSheetTo(workbench.page, ".wm-steps");
    expect(await frame.locator(".wm-steps caption").textContent()).toBe("Steps (7 done, 16 still to do)");
  });

  it("is as readable in a light theme", async () => {
    expect(await brightness()).toBeGreaterThan(150);
    workbench.changeSettings({ "workbench.colorTheme": "Default Light Modern" });
    await until(workbench.page, "dark ink", async () => (await brightness()) < 100);
    await scrollSheetTo(workbench.page, ".wm-plot");
    await picture("job-sheet-light");
  });

  it("keeps every word and line clear in both high-contrast themes", async () => {
    for (const [theme, name, dark] of [
      ["Default High Contrast", "dark", true],
      ["Default High Contrast Light", "light", false],
    ] as const) {
      workbench.changeSettings({ "workbench.colorTheme": theme });
      const wanted = (bright: number): boolean => (dark ? bright > 200 : bright < 80);
      await until(workbench.page, `the ink of ${theme}`, async () => wanted(await brightness()));
      // The editor may draw its page anew for another theme, so the frame is looked up at each try.
      const measured = await until(workbench.page, `a page in ${theme}`, async () => {
        const frame = await sheetFrame(workbench.page);
        if ((await frame.locator("body.vscode-high-contrast").count()) === 0) return false;
        return { words: await contrasts(frame, WORDS), lines: await contrasts(frame, LINES) };
      });
      await workbench.screenshot(join(outputFolder, `job-sheet-high-contrast-${name}.png`));
      expect(measured.words.length).toBeGreaterThan(20);
      expect(measured.lines.length).toBeGreaterThan(3);
      // WCAG 2.2, success criterion 1.4.6: 7 to 1 for text; 1.4.11: 3 to 1 for what a graphic needs (from memory).
      expect(measured.words.filter(({ ratio }) => ratio < 7)).toEqual([]);
      expect(measured.lines.filter(({ ratio }) => ratio < 3)).toEqual([]);
    }
  });
});
