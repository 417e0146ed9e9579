import { copyFileSync, existsSync, mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { dom } from "./editor-dom.ts";
import { outputFolder, samplesFolder, screenshotsFolder, vsixPath } from "./paths.ts";
import { GESTURE_MS, until } from "./patience.ts";
import { Workbench } from "./workbench.ts";

const JOB = "2031-0999";
const NOTE = `${JOB}.md`;
const FOCUS_COMMAND = "Explorer: Focus on Notes That Need Attention View";
const SAMPLE = "telematics-box-apprentice.md";
const updateScreenshots = process.env.UPDATE_SCREENSHOTS === "1";

// Everything here is done by keys alone, as somebody does who uses no pointer.
describe("the extension's commands, view and status entry, by keyboard", () => {
  let workbench: Workbench;

  const picture = async (name: string): Promise<void> => {
    const path = join(outputFolder, `${name}.png`);
    await workbench.screenshot(path);
    if (!updateScreenshots) return;
    mkdirSync(screenshotsFolder, { recursive: true });
    copyFileSync(path, join(screenshotsFolder, `${name}.png`));
  };

  beforeAll(async () => {
    workbench = await Workbench.start({ vsix: vsixPath, folder: samplesFolder });
  });

  afterAll(async () => {
    await workbench?.stop();
  });

  it("makes a new note from a procedure, with gaps to fill by Tab", async () => {
    const { page } = workbench;
    await workbench.runCommand("Witness Mark: New job note from a procedure");
    const offered = page.locator(dom.quickInputRow, { hasText: "Moisture in a lamp" });
    await offered.first().waitFor();
    await page.locator(dom.quickInput).fill("lamp-moisture");
    await offered.first().waitFor();
    await picture("new-note");
    await page.keyboard.press("Enter");
    await until(page, "the question for the job number", async () => {
      const asked = page.locator(dom.quickInputWidget, { hasText: "Job number" });
      return (await asked.count()) > 0;
    });
    await page.locator(dom.quickInput).fill(JOB);
    await page.keyboard.press("Enter");
    await page.locator(".tab.active", { hasText: NOTE }).waitFor();
    // The cursor stands in the first gap, the subject, which the title repeats.
    await workbench.waitForLine("subject:");
    await page.keyboard.type("left work lamp");
    await workbench.waitForLine("# left work lamp");
    await page.keyboard.press("Escape");
    await page.keyboard.press("Control+s");
    const path = join(workbench.folder, NOTE);
    await until(
      page,
      "the note on the disk",
      async () => existsSync(path) && readFileSync(path, "utf8") !== "",
    );
    const text = readFileSync(path, "utf8");
    expect(text).toMatch(
      new RegExp(`^---\\njob: ${JOB}\\nprocedure: lamp-moisture\\nsubject: left work lamp\\n`),
    );
    expect(text).toContain("--:--  assess");
  });

  it("says in the status bar how the note at hand stands", async () => {
    await workbench.waitForStatus(`Job ${JOB}: `);
    await workbench.waitForStatus("steps to do");
    expect(workbench.runsServerProcess()).toBe(true);
    await workbench.screenshot(join(outputFolder, "note-written.png"));
  });

  it("reviews a note, gravest findings first, and goes to the one that is picked", async () => {
    const { page } = workbench;
    await workbench.openByName(SAMPLE);
    await workbench.waitForStatus("Job 2031-0071: ");
    await workbench.runCommand("Witness Mark: Review this note");
    const row = page.locator(dom.quickInputRow, { hasText: "Error, line" }).first();
    await row.waitFor();
    await picture("review");
    const line = /line (\d+)/.exec((await row.textContent()) ?? "")?.[1];
    await page.keyboard.press("Enter");
    await page.locator(dom.cursorPosition, { hasText: `Ln ${line},` }).waitFor({ timeout: GESTURE_MS });
  });

  it("finds notes while a condition is typed, says what is wrong with one, and opens the value", async () => {
    const { page } = workbench;
    await workbench.runCommand("Witness Mark: Find in the notes");
    const rows = page.locator(dom.quickInputRow);
    await rows.filter({ hasText: 'procedure is "' }).first().waitFor();
    await page.locator(dom.quickInput).fill("leek size > 0.1 mm");
    await rows.filter({ hasText: "at leek size, character 1" }).waitFor();
    await workbench.screenshot(join(outputFolder, "find-mistake.png"));
    const mended = rows.filter({ hasText: "Write leak size there" });
    await mended.waitFor();
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    const found = rows.filter({ hasText: "leak size: " }).first();
    await found.waitFor();
    expect(await page.locator(dom.quickInput).inputValue()).toBe("leak size > 0.1 mm");
    await picture("find");
    const job = /2031-\d{4}/.exec((await found.getAttribute("aria-label")) ?? "")?.[0];
    await page.keyboard.press("Enter");
    await workbench.waitForStatus(`Job ${job}: `);
    await workbench.waitForLine("leak size");
    await until(page, "the cursor at the value", async () =>
      (await workbench.lineAtCursor()).startsWith("leak size "),
    );
  });

  it("keeps what was found in a view, with labels for a screen reader", async () => {
    const { page } = workbench;
    await workbench.runCommand("Witness Mark: Find in the notes");
    await page.locator(dom.quickInput).fill("leak size > 0.1 mm");
    await page.locator(dom.quickInputRow, { hasText: "leak size: " }).first().waitFor();
    // From the first row one key leads to the last.
    await until(page, "the last row", async () => {
      const last = page.locator(`${dom.quickInputRow}.focused`, { hasText: "Keep these" });
      if ((await last.count()) === 0) await page.keyboard.press("ArrowUp");
      return (await last.count()) > 0;
    });
    await page.keyboard.press("Enter");
    const note = page.getByRole("treeitem", { name: /^Job note 2031-\d{4}, / });
    const place = page.getByRole("treeitem", { name: /^leak size: .*, line \d+$/ });
    await until(
      page,
      "the notes in the view",
      async () => (await note.count()) > 0 && (await place.count()) > 0,
    );
    // The focus goes to the first note by itself; two rows below it is the second.
    const focused = page.locator(".pane-body .monaco-list:focus-within .monaco-list-row.focused");
    await focused.filter({ hasText: "2031-0182" }).waitFor();
    await workbench.screenshot(join(outputFolder, "found.png"));
    await until(page, "the focus on the second note", async () => {
      const second = focused.filter({ hasText: "2031-0175" });
      if ((await second.count()) === 0) await page.keyboard.press("ArrowDown");
      return (await second.count()) > 0;
    });
    await page.keyboard.press("Enter");
    await page.locator('.tab.active[data-resource-name="exhaust-joint-pickup.md"]').waitFor();
    await until(page, "the cursor at the value", async () =>
      (await workbench.lineAtCursor()).startsWith("leak size "),
    );
  });

  it("finds jobs like the one at hand, and says why each is alike", async () => {
    const { page } = workbench;
    await workbench.openByName(SAMPLE);
    await workbench.runCommand("Witness Mark: Find similar jobs");
    await page.locator(dom.quickInputRow, { hasText: "Alike: " }).first().waitFor();
    await workbench.screenshot(join(outputFolder, "similar.png"));
    await page.keyboard.press("Escape");
  });

  it("lists the notes that need attention, with labels for a screen reader", async () => {
    const { page } = workbench;
    await workbench.runCommand(FOCUS_COMMAND);
    const row = page.getByRole("treeitem", { name: /^Job note 2031-\d{4}: .*, \d+ errors?/ });
    await until(page, "a note in the view", async () => (await row.count()) > 0);
    // The list was empty before; now there is something to put the focus on.
    await workbench.runCommand(FOCUS_COMMAND);
    await until(page, "the first note's findings", async () => {
      await page.keyboard.press("Home");
      await page.keyboard.press("ArrowRight");
      return (await page.getByRole("treeitem", { name: /^(?:Error|Warning) in line \d+: / }).count()) > 0;
    });
    await picture("attention");
  });

  it("draws no hints and hides what only informs once the settings say so, without a reload", async () => {
    await workbench.openByName(SAMPLE);
    await workbench.waitForInlayHint("±");
    workbench.changeSettings({ "witness-mark.hints": false });
    await workbench.waitForNoHints();
  });
});
