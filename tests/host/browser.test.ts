import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { dom } from "./editor-dom.ts";
import { outputFolder, samplesFolder, vsixPath } from "./paths.ts";
import { Workbench } from "./workbench.ts";

const SAMPLE = "telematics-box-apprentice.md";

describe("the extension inside the browser, with its server in a worker", () => {
  let workbench: Workbench;

  beforeAll(async () => {
    workbench = await Workbench.start({
      vsix: vsixPath,
      folder: samplesFolder,
      // The editor runs an extension that can do both on its own side, unless it is told otherwise.
      settings: { "remote.extensionKind": { "witness-mark.witness-mark": ["web"] } },
    });
    await workbench.openFile(SAMPLE);
  });

  afterAll(async () => {
    await workbench?.stop();
  });

  it("finds the mistakes and works out the values", async () => {
    await workbench.waitForSquiggle();
    // The uncertainty is that of P1 in the shop file, which is read through the editor here.
    await workbench.waitForInlayHint("21.5 lbf ± 1.5 lbf");
    await workbench.waitForProblem("unit/unknown");
    // Nothing of it runs on the far side.
    expect(workbench.runsServerProcess()).toBe(false);
  });

  it("offers the procedures for a new note", async () => {
    const { page } = workbench;
    await workbench.runCommand("Witness Mark: New job note from a procedure");
    await page.locator(dom.quickInputRow, { hasText: "Moisture in a lamp" }).first().waitFor();
    await page.keyboard.press("Escape");
  });

  it("finds among all notes, which it reads through the editor, each with its shop file", async () => {
    const { page } = workbench;
    await workbench.runCommand("Witness Mark: Find in the notes");
    await page.locator(dom.quickInput).fill("leak size > 0.1 mm");
    // The uncertainty is that of the shop's instruments, and this note is not open.
    const row = page.locator(dom.quickInputRow, { hasText: "2031-0182" });
    await row.waitFor();
    expect(await row.textContent()).toMatch(/leak size: 1\.23 mm ± 0\.12 mm/);
    await page.keyboard.press("Escape");
  });

  it("says in the status bar how the note stands", async () => {
    await workbench.waitForStatus("Job 2031-0071: 3 errors");
    await workbench.screenshot(join(outputFolder, "browser.png"));
  });

  it("says so where the editor draws its preview on the far side, out of the extension's reach", async () => {
    // This host carries its own markdown extension for the far side only; a host that has it in the browser
    // shows the sheet there, which the tests of the preview's bundle hold.
    await workbench.runCommand("Witness Mark: Show the job sheet");
    const notice = workbench.page.locator(dom.notification, { hasText: "runs apart from Witness Mark here" });
    await notice.first().waitFor();
    await workbench.screenshot(join(outputFolder, "browser-preview.png"));
  });
});
