import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { type Browser, chromium, type Page } from "playwright-core";
import {
  dom,
  drawnProblems,
  plain,
  pointOf,
  type StyledRun,
  styledRuns,
  visibleHints,
  visibleLines,
} from "./editor-dom.ts";
import { type EditorServer, serveEditor } from "./editor-server.ts";
import { chromiumPath, outputFolder } from "./paths.ts";

/** Patience for one thing to appear. Long, because the machine may be busy with other work. */
const PATIENCE_MS = 60_000;
/** How long one try of a gesture may take before it is made again; the editor swallows a few of them. */
const GESTURE_MS = 4_000;
const HOVER_DWELL_MS = 1_500;
const SCROLL_SETTLE_MS = 150;

export interface WorkbenchOptions {
  readonly vsix: string;
  /** Copied, so that no test can change the original; left out, the folder starts empty. */
  readonly folder?: string;
  /** Further files of the test's own, by name. */
  readonly files?: Readonly<Record<string, string>>;
  readonly trusted?: boolean;
}

/** A real editor with the extension installed, a folder of notes open in it, and hands to work it with. */
export class Workbench {
  private openPath = "";

  private constructor(
    readonly page: Page,
    readonly folder: string,
    private readonly scratch: string,
    private readonly server: EditorServer,
    private readonly browser: Browser,
  ) {}

  static async start(options: WorkbenchOptions): Promise<Workbench> {
    const scratch = mkdtempSync(join(tmpdir(), "witness-mark-host-"));
    const folder = join(scratch, "notes");
    mkdirSync(folder);
    if (options.folder !== undefined && existsSync(options.folder)) {
      cpSync(options.folder, folder, { recursive: true });
    }
    for (const [name, text] of Object.entries(options.files ?? {})) writeFileSync(join(folder, name), text);

    let server: EditorServer | undefined;
    let browser: Browser | undefined;
    try {
      const trusted = options.trusted ?? true;
      server = await serveEditor({ scratch, vsix: options.vsix, folder, trusted });
      browser = await chromium.launch({
        executablePath: chromiumPath,
        args: [
          ...["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"],
          ...["--disable-background-networking", "--disable-component-update", "--disable-sync"],
        ],
      });
      const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
      page.setDefaultTimeout(PATIENCE_MS);
      await page.goto(`${server.url}/?folder=${encodeURIComponent(folder)}`);
      await page.waitForSelector(dom.workbench);
      return new Workbench(page, folder, scratch, server, browser);
    } catch (cause) {
      await browser?.close();
      await server?.stop();
      throw new Error(`The workbench did not open. The editor printed:\n${server?.log() ?? ""}`, { cause });
    }
  }

  /** Closes the browser, ends the editor's processes and removes everything they wrote. */
  async stop(): Promise<void> {
    await this.browser.close();
    await this.server.stop();
    rmSync(this.scratch, { recursive: true, force: true, maxRetries: 5 });
  }

  /** Opens a file of the folder's top level in a lasting tab. */
  async openFile(name: string): Promise<void> {
    const row = this.page.locator(dom.explorerRow, { hasText: name }).first();
    const tab = this.page.locator(".tab.active", { hasText: name });
    await this.until(`the tab of ${name}`, async () => {
      await row.dblclick({ timeout: GESTURE_MS });
      await tab.waitFor({ timeout: GESTURE_MS });
      await this.page.waitForSelector(dom.lines, { timeout: GESTURE_MS });
      return true;
    });
    this.openPath = join(this.folder, name);
  }

  /** The text of the open file as it stands on the disk: save first when the editor has changed it. */
  savedText(): string {
    return readFileSync(this.openPath, "utf8");
  }

  /** Puts the cursor just inside the first place of the open file (as saved) that holds the text. */
  async reveal(text: string): Promise<void> {
    const before = this.savedText().split(text, 1)[0] ?? "";
    if (before === this.savedText()) throw new Error(`${this.openPath} does not hold "${text}".`);
    const line = before.split("\n").length;
    const column = before.length - (before.lastIndexOf("\n") + 1) + 2;
    await this.until(`the cursor at line ${line}`, async () => {
      await this.page.keyboard.press("Control+g");
      await this.page.locator(dom.quickInput).fill(`:${line}:${column}`, { timeout: GESTURE_MS });
      await this.page.keyboard.press("Enter");
      await this.page
        .locator(dom.cursorPosition, { hasText: `Ln ${line}, Col ${column}` })
        .waitFor({ timeout: GESTURE_MS });
      return true;
    });
  }

  async waitForSquiggle(): Promise<void> {
    await this.until("a squiggle", () => this.page.isVisible(dom.squiggle));
  }

  /** Waits for a hint that holds the text and gives the whole hint. */
  waitForInlayHint(text: string): Promise<string> {
    return this.until(`an inlay hint with "${text}"`, async () => {
      const hints = await visibleHints(this.page);
      return hints.find((hint) => hint.includes(text)) ?? false;
    });
  }

  /** Rests the pointer on the text and gives what the hover then says. */
  hoverOver(text: string): Promise<string> {
    return this.until(`a hover over "${text}"`, async () => {
      const point = await pointOf(this.page, text);
      if (point === undefined) throw new Error(`No line in view shows "${text}".`);
      // Arriving from elsewhere makes the editor count the rest from a real movement.
      await this.page.mouse.move(point.x + 40, point.y + 120);
      await this.page.mouse.move(point.x, point.y, { steps: 4 });
      await pause(HOVER_DWELL_MS);
      const parts = await this.page.locator(dom.hover).allInnerTexts();
      const said = plain(parts.join("\n")).trim();
      return said === "" || /^loading/i.test(said) ? false : said;
    });
  }

  /** Takes the pointer off the text so that the hover goes away. */
  async leaveHover(): Promise<void> {
    await this.restPointer();
    await this.page.keyboard.press("Escape");
  }

  /** Puts the pointer on the empty part of the title bar, where nothing answers to it. */
  private async restPointer(): Promise<void> {
    await this.page.mouse.move(1100, 8);
    await pause(SCROLL_SETTLE_MS);
  }

  /** Opens the quick fixes at the text, takes the one whose title holds `title`, and saves the file. */
  async applyQuickFix(at: string, title: string): Promise<void> {
    const rows = this.page.locator(dom.actionRow);
    await this.until(`the quick fix "${title}"`, async () => {
      await this.page.keyboard.press("Escape");
      await this.reveal(at);
      await this.page.keyboard.press("Control+.");
      await rows.first().waitFor({ timeout: GESTURE_MS });
      // A click fails here because a pointer blocker lies over the list, so the keyboard walks to the row.
      for (let step = await rows.count(); step > 0; step--) {
        const focused = this.page.locator(`${dom.actionRow}.focused`);
        if (plain((await focused.first().textContent({ timeout: GESTURE_MS })) ?? "").includes(title)) {
          await this.page.keyboard.press("Enter");
          await this.page.waitForSelector(dom.dirtyTab, { timeout: GESTURE_MS });
          return true;
        }
        await this.page.keyboard.press("ArrowDown");
      }
      return false;
    });
    await this.save();
  }

  async save(): Promise<void> {
    await this.page.keyboard.press("Control+s");
    await this.page.waitForSelector(dom.dirtyTab, { state: "detached" });
  }

  /** Runs a command from the palette by its title. */
  async runCommand(title: string): Promise<void> {
    await this.until(`the command "${title}"`, async () => {
      await this.page.keyboard.press("F1");
      await this.page.locator(dom.quickInput).fill(`>${title}`, { timeout: GESTURE_MS });
      await this.page.locator(dom.quickInputRow, { hasText: title }).first().waitFor({ timeout: GESTURE_MS });
      await this.page.keyboard.press("Enter");
      return true;
    });
  }

  async openProblems(): Promise<void> {
    await this.until("the Problems panel", async () => {
      if (await this.page.isVisible(dom.problemsPanel)) return true;
      await this.page.keyboard.press("Control+Shift+m");
      await this.page.waitForSelector(dom.problemsPanel, { timeout: GESTURE_MS });
      return true;
    });
  }

  /** What the Problems panel lists, row by row: files and findings, each with its rule id. */
  async problemsRows(): Promise<string[]> {
    await this.openProblems();
    const box = await this.page.locator(dom.problemsPanel).boundingBox();
    if (box === null) return [];
    // The panel only draws the rows in view, so the list is rolled through, from its top and back to it.
    await this.page.mouse.move(box.x + box.width - 60, box.y + box.height - 20);
    await this.rollProblemsToTop(box.height);
    const rows = new Map<number, string>();
    // Two looks in a row without a new row: a slow machine may not have rolled yet at the first.
    for (let stale = 0; stale < 2; ) {
      const known = rows.size;
      await pause(SCROLL_SETTLE_MS);
      for (const row of await drawnProblems(this.page)) rows.set(row.index, row.text);
      stale = rows.size > known ? 0 : stale + 1;
      await this.page.mouse.wheel(0, box.height / 2);
    }
    await this.rollProblemsToTop(box.height);
    await this.restPointer();
    return [...rows].sort(([a], [b]) => a - b).map(([, text]) => text);
  }

  private async rollProblemsToTop(stride: number): Promise<void> {
    for (let tries = 0; tries < 50; tries++) {
      const drawn = await drawnProblems(this.page);
      await this.page.mouse.wheel(0, -stride);
      if (drawn.length === 0 || drawn.some((row) => row.index <= 1)) return;
      await pause(SCROLL_SETTLE_MS / 2);
    }
  }

  /** Waits until the Problems panel shows a row that holds the text, and gives that row. */
  waitForProblem(text: string): Promise<string> {
    return this.until(`a Problems row with "${text}"`, async () => {
      const rows = await this.problemsRows();
      return rows.find((row) => row.includes(text)) ?? false;
    });
  }

  async waitForProblemGone(text: string): Promise<void> {
    await this.until(`no Problems row with "${text}"`, async () => {
      const rows = await this.problemsRows();
      return !rows.some((row) => row.includes(text));
    });
  }

  /** How the first visible line that holds the text is coloured. */
  styledRuns(text: string): Promise<StyledRun[]> {
    return styledRuns(this.page, text);
  }

  async screenshot(path: string): Promise<void> {
    mkdirSync(dirname(path), { recursive: true });
    await this.page.screenshot({ path });
  }

  /** True when the editor says that it runs the folder in its restricted mode. */
  async isRestricted(): Promise<boolean> {
    const label = this.page.locator(dom.trustStatus).first();
    return (await label.textContent())?.includes("Restricted Mode") ?? false;
  }

  /**
   * Tries until the step gives something other than false or fails no more. What the editor swallowed once is
   * asked again; after the patience is over the picture and the last failure tell what stood in the way.
   */
  private async until<T>(what: string, step: () => Promise<T | false>): Promise<T> {
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
    await this.screenshot(join(outputFolder, `failed-${Date.now()}.png`));
    const lines = (await visibleLines(this.page)).join("\n");
    throw new Error(`Waited in vain for ${what}. In view were:\n${lines}`, { cause: failure });
  }
}
