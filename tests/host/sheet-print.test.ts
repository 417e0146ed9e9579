import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { complaintsOf, openBrowser, scratchFolder, violations, witnessMark } from "./pages.ts";
import { outputFolder, samplesFolder } from "./paths.ts";

// ISO 216 A4 is 210 mm × 297 mm; ANSI/ASME Y14.1 Letter is 8.5 in × 11 in; a PDF point is 1/72 in (ISO 32000-1).
const PAPERS = [
  { format: "A4", width: 595.28, height: 841.89, across: "180mm" },
  { format: "Letter", width: 612, height: 792, across: "185.9mm" },
] as const;
const SHEETS = [
  { note: "rear-lamp.md", options: [] },
  { note: "rear-lamp.md", options: ["--customer"] },
  { note: "telematics-box-apprentice.md", options: [] },
  { note: "two-testers-bench.md", options: [] },
] as const;

describe("the job sheet on paper", () => {
  const folder = scratchFolder();
  let browser: Browser;

  beforeAll(async () => {
    mkdirSync(outputFolder, { recursive: true });
    browser = await openBrowser();
  });

  afterAll(async () => {
    await browser?.close();
  });

  describe.each(SHEETS)("$note $options", ({ note, options }) => {
    const name = `sheet-${note.replace(".md", "")}${options.join("")}`;
    const file = join(folder, `${name}.html`);
    beforeAll(() => {
      writeFileSync(file, witnessMark(samplesFolder, "sheet", note, ...options));
    });

    it.each(PAPERS)("prints on $format within its edges", async ({ format, width, height, across }) => {
      const page = await browser.newPage();
      const complaints = complaintsOf(page);
      await page.goto(pathToFileURL(file).href);
      await page.emulateMedia({ media: "print" });
      // As wide as the paper less the margins, nothing may reach beyond.
      await page.evaluate((room) => {
        document.body.style.width = room;
      }, across);
      const stray = await page.evaluate(() => {
        const edge = document.body.getBoundingClientRect().right + 1;
        return [...document.querySelectorAll("main *")]
          .filter((element) => element.getBoundingClientRect().right > edge)
          .map((element) => element.outerHTML.slice(0, 80));
      });
      expect(stray).toEqual([]);
      await page.reload();
      const path = join(outputFolder, `${name}-${format}.pdf`);
      await page.pdf({ path, format, preferCSSPageSize: false, printBackground: false });
      const pdf = readFileSync(path, "latin1");
      const boxes = [...pdf.matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)];
      expect(boxes.length).toBeGreaterThan(0);
      for (const [, across_ = "", up = ""] of boxes) {
        expect(Math.abs(Number(across_) - width)).toBeLessThan(1);
        expect(Math.abs(Number(up) - height)).toBeLessThan(1);
      }
      expect(boxes.length).toBeLessThanOrEqual(6);
      expect(complaints).toEqual([]);
      await page.close();
    });

    it("can be used by everybody", async () => {
      const page = await browser.newPage();
      await page.goto(pathToFileURL(file).href);
      expect(await violations(page)).toEqual([]);
      await page.close();
    });
  });
});
