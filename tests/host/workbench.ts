import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { type Browser, chromium, type Page } from "playwright-core";
import { dom, plain, pointOf, type StyledRun, styledRuns, visibleHints, visibleLines } from "./editor-dom.ts";
import { type EditorServer, serveEditor } from "./editor-server.ts";
import { chromiumPath } from "./paths.ts";
import { GESTURE_MS, PATIENCE_MS, until } from "./patience.ts";
import { problemsRows, restPointer } from "./problems-panel.ts";

const HOVER_DWELL_MS = 1_500;

export interface WorkbenchOptions {
  readonly vsix: string;
  /** Copied, so that no test can change the original; left out, the folder starts empty. */
  readonly folder?: string;
  /** Further files of the test's own, by name. */
  readonly files?: Readonly<Record<string, string>>;
  readonly trusted?: boolean;
  /** The user's settings besides those that keep the editor quiet. */
  readonly settings?: Readonly<Record<string, unknown>>;
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
    // Also when the tests are broken off; a removal that is done already costs nothing.
    process.once("exit", () => rmSync(scratch, { recursive: true, force: true, maxRetries: 5 }));
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
      const { vsix, settings = {} } = options;
      server = await serveEditor({ scratch, vsix, folder, trusted, settings });
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

  /** Waits until the explorer no longer lists a file. */
  async waitForFileGone(name: string): Promise<void> {
    await this.until(`${name} to leave the explorer`, async () => {
      return (await this.page.locator(dom.explorerRow, { hasText: name }).count()) === 0;
    });
  }

  /** Opens a file by keys alone: its name in the quick open box, then Enter. */
  async openByName(name: string): Promise<void> {
    await this.until(`the tab of ${name}`, async () => {
      await this.page.keyboard.press("Escape");
      await this.page.keyboard.press("Control+p");
      await this.page.locator(dom.quickInput).fill(name, { timeout: GESTURE_MS });
      // Enter takes the row in focus, which is an earlier file's until the list has caught up with what was typed.
      await this.page
        .locator(`${dom.quickInputRow}.focused`, { hasText: name })
        .waitFor({ timeout: GESTURE_MS });
      await this.page.keyboard.press("Enter");
      await this.page.locator(".tab.active", { hasText: name }).waitFor({ timeout: GESTURE_MS });
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

  /** The line that the cursor stands in, as it is saved in the file of the tab in front. */
  async lineAtCursor(): Promise<string> {
    const name = (await this.page.locator(".tab.active").getAttribute("data-resource-name")) ?? "";
    const said = (await this.page.locator(dom.cursorPosition).textContent()) ?? "";
    const line = Number(/Ln (\d+)/.exec(said)?.[1] ?? 0);
    return readFileSync(join(this.folder, name), "utf8").split("\n")[line - 1] ?? "";
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

  async waitForNoHints(): Promise<void> {
    await this.until("the hints to go away", async () => (await visibleHints(this.page)).length === 0);
  }

  /** Waits for a line in view that starts with the text. */
  async waitForLine(start: string): Promise<void> {
    await this.until(`a line that starts with "${start}"`, async () =>
      (await visibleLines(this.page)).some((line) => line.startsWith(start)),
    );
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

  /** Takes the pointer off everything and waits until no hover is left on the page. */
  async leaveHover(): Promise<void> {
    await this.until("the hovers to go away", async () => {
      await restPointer(this.page);
      await this.page.keyboard.press("Escape");
      for (const hover of await this.page.locator(dom.anyHover).all()) {
        if (await hover.isVisible()) return false;
      }
      return true;
    });
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
      const offered: string[] = [];
      for (let step = await rows.count(); step > 0; step--) {
        const focused = this.page.locator(`${dom.actionRow}.focused`).first();
        offered.push(plain((await focused.textContent({ timeout: GESTURE_MS })) ?? "").trim());
        if (offered.at(-1)?.includes(title)) {
          await this.page.keyboard.press("Enter");
          await this.page.waitForSelector(dom.dirtyTab, { timeout: GESTURE_MS });
          return true;
        }
        await this.page.keyboard.press("ArrowDown");
      }
      throw new Error(`The list offered: ${offered.join(" | ")}`);
    });
    await this.save();
  }

  /** Waits until the open file has changes that are not on the disk yet. */
  async waitUntilDirty(): Promise<void> {
    await this.until("a change in the open file", () => this.page.isVisible(dom.dirtyTab));
  }

  async save(): Promise<void> {
    await this.page.keyboard.press("Control+s");
    await this.page.waitForSelector(dom.dirtyTab, { state: "detached" });
  }

  /** Runs a command from the palette by its title. */
  async runCommand(title: string): Promise<void> {
    await this.until(`the command "${title}"`, async () => {
      // A list that was opened too early does not learn of commands that come later.
      await this.page.keyboard.press("Escape");
      await this.page.keyboard.press("F1");
      await this.page.locator(dom.quickInput).fill(`>${title}`, { timeout: GESTURE_MS });
      await this.page.locator(dom.quickInputRow, { hasText: title }).first().waitFor({ timeout: GESTURE_MS });
      await this.page.keyboard.press("Enter");
      return true;
    });
  }

  /** Runs a task that an extension brings: by its type, then by its name. */
  async runTask(type: string, name: string): Promise<void> {
    const { page } = this;
    const command = "Tasks: Run Task";
    // Commands with longer names come first in the list, so the row itself is looked for.
    const picks = [command, `All ${type} tasks`, name].map((label) =>
      page.getByRole("option", { name: new RegExp(`(?:^|: )${label}(?:,|$)`) }).first(),
    );
    await this.until(`the task "${name}"`, async () => {
      await page.keyboard.press("Escape");
      await page.keyboard.press("F1");
      await page.locator(dom.quickInput).fill(`>${command}`, { timeout: GESTURE_MS });
      for (const row of picks) await row.click({ timeout: GESTURE_MS });
      return true;
    });
  }

  /** Changes the folder's settings, as somebody does who edits the file; the editor takes them up by itself. */
  changeSettings(settings: Readonly<Record<string, unknown>>): void {
    const path = join(this.folder, ".vscode/settings.json");
    const known: unknown = existsSync(path) ? JSON.parse(readFileSync(path, "utf8")) : {};
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, JSON.stringify({ ...(known as object), ...settings }, null, 2));
  }

  /** What the Problems panel lists, row by row: files and findings, each with its rule id. */
  problemsRows(): Promise<string[]> {
    return problemsRows(this.page);
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

  /** Waits until the status bar shows a message with the text, or until it no longer does. */
  async waitForStatus(text: string, shown = true): Promise<void> {
    await this.until(`the status bar ${shown ? "to show" : "to drop"} "${text}"`, async () => {
      const said = (await this.page.locator(dom.statusBar).textContent()) ?? "";
      return plain(said).includes(text) === shown;
    });
  }

  /** Whether the language server of this editor's extension runs as a process of its own (Linux only, as all of this). */
  runsServerProcess(): boolean {
    const script = join(this.scratch, "extensions");
    return readdirSync("/proc").some((entry) => {
      if (!/^\d+$/.test(entry)) return false;
      try {
        const line = readFileSync(`/proc/${entry}/cmdline`, "utf8");
        return line.includes(script) && line.includes("dist/server.js");
      } catch {
        // It has ended meanwhile.
        return false;
      }
    });
  }

  /** True when the editor says that it runs the folder in its restricted mode. */
  async isRestricted(): Promise<boolean> {
    const label = this.page.locator(dom.trustStatus).first();
    return (await label.textContent())?.includes("Restricted Mode") ?? false;
  }

  private until<T>(what: string, step: () => Promise<T | false>): Promise<T> {
    return until(this.page, what, step);
  }
}
