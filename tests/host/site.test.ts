import { createReadStream, existsSync, mkdirSync } from "node:fs";
import { createServer, type Server } from "node:http";
import { extname, join, normalize } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { complaintsOf, openBrowser, scratchFolder, violations, witnessMark } from "./pages.ts";
import { outputFolder, projectRoot, samplesFolder } from "./paths.ts";

const PAGES = [
  "index.html",
  "open.html",
  "values.html",
  "values/test-pressure-psi.html",
  "procedures.html",
  "procedures/lamp-moisture.html",
  "rules.html",
  "rules/unit-decimal-comma.html",
  "search.html",
  "jobs/rear-lamp.html",
  "jobs/telematics-box-apprentice.html",
];
const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html",
  ".css": "text/css",
  ".js": "text/javascript",
  ".svg": "image/svg+xml",
};

describe("the site in a real browser", () => {
  const folder = scratchFolder();
  const site = join(folder, "site");
  let browser: Browser;
  let page: Page;
  let complaints: string[];
  const at = (path: string): string => pathToFileURL(join(site, path.split("?")[0] ?? "")).href;

  beforeAll(async () => {
    witnessMark(projectRoot, "site", site, samplesFolder, "--title", "Invented workshop");
    mkdirSync(outputFolder, { recursive: true });
    browser = await openBrowser();
  });

  afterAll(async () => {
    await browser?.close();
  });

  describe.each(["light", "dark"] as const)("by %s, from a folder", (colorScheme) => {
    beforeAll(async () => {
      page = await browser.newPage({ viewport: { width: 1280, height: 900 }, colorScheme });
      complaints = complaintsOf(page);
    });
    afterAll(async () => {
      await page.close();
    });

    it.each(PAGES)("%s can be used by everybody and complains of nothing", async (path) => {
      await page.goto(at(path));
      expect(await violations(page)).toEqual([]);
      expect(complaints).toEqual([]);
      await page.screenshot({
        path: join(outputFolder, `site-${colorScheme}-${path.replace(/\W+/g, "-")}.png`),
      });
    });

    it("has its own paper and ink", async () => {
      await page.goto(at("index.html"));
      const paper = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
      expect(paper).toBe(colorScheme === "light" ? "rgb(252, 251, 247)" : "rgb(20, 25, 31)");
    });
  });

  it("finds a job by words with a slip in them, from any page, and leads to it", async () => {
    page = await browser.newPage();
    complaints = complaintsOf(page);
    await page.goto(at("jobs/rear-lamp.html"));
    await page.fill("#words", "droplts lens");
    await page.keyboard.press("Enter");
    await page.waitForSelector("#hits li");
    expect(await page.locator("#count").textContent()).toMatch(/^\d+ jobs? for “droplts lens”$/);
    const [first] = await page.locator("#hits a").allInnerTexts();
    expect(first).toContain("Job 2031-0042");
    // Going on typing searches again.
    await page.fill("#words", "zzzz");
    expect(await page.locator("#hits li").count()).toBe(0);
    await page.fill("#words", "2031-0042");
    await page.locator("#hits a").first().click();
    await page.waitForURL(/jobs\/rear-lamp\.html$/);
    expect(complaints).toEqual([]);
    await page.close();
  });

  it("works by keys alone, with a way past the head", async () => {
    page = await browser.newPage();
    await page.goto(at("index.html"));
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("To the content");
    await page.keyboard.press("Enter");
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("main");
    await page.close();
  });

  it("fits a telephone without scrolling sideways, save inside tables", async () => {
    page = await browser.newPage({ viewport: { width: 360, height: 740 } });
    for (const path of PAGES) {
      await page.goto(at(path));
      const [inner, outer] = await page.evaluate(() => [
        document.documentElement.scrollWidth,
        document.documentElement.clientWidth,
      ]);
      expect({ path, fits: (inner ?? 0) <= (outer ?? 0) }).toEqual({ path, fits: true });
    }
    await page.close();
  });

  it("prints without what is only for finding the way", async () => {
    page = await browser.newPage({ colorScheme: "dark" });
    await page.emulateMedia({ media: "print" });
    await page.goto(at("jobs/rear-lamp.html"));
    expect(await page.locator(".head nav").isVisible()).toBe(false);
    const [ink, paper] = await page.evaluate(() => {
      const style = getComputedStyle(document.body);
      return [style.color, style.backgroundColor];
    });
    expect([ink, paper]).toEqual(["rgb(0, 0, 0)", "rgb(255, 255, 255)"]);
    await page.close();
  });

  it("works from a plain server too, and every link and picture of every page is there", async () => {
    const server: Server = createServer((request, response) => {
      const path = normalize(decodeURIComponent(new URL(request.url ?? "/", "http://localhost").pathname));
      const file = join(site, path);
      if (!existsSync(file)) {
        response.writeHead(404).end();
        return;
      }
      response.setHeader("Content-Type", TYPES[extname(file)] ?? "application/octet-stream");
      createReadStream(file).pipe(response);
    });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    try {
      const address = server.address();
      const port = typeof address === "object" ? address?.port : undefined;
      page = await browser.newPage();
      complaints = complaintsOf(page);
      await page.goto(`http://127.0.0.1:${port}/search.html?q=lamp`);
      await page.waitForSelector("#hits li");
      const seen = new Set<string>();
      const waiting = [`http://127.0.0.1:${port}/index.html`];
      for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
        if (seen.has(next)) continue;
        seen.add(next);
        const answer = await page.goto(next);
        expect({ next, status: answer?.status() }).toEqual({ next, status: 200 });
        const links = await page.evaluate(() =>
          [...document.links].map(({ href }) => href.replace(/[?#].*$/, "")),
        );
        waiting.push(
          ...links.filter((link) => link.startsWith(`http://127.0.0.1:${port}/`) && !seen.has(link)),
        );
      }
      expect(seen.size).toBeGreaterThan(60);
      expect(complaints).toEqual([]);
    } finally {
      await page.close();
      server.close();
    }
  });
});
