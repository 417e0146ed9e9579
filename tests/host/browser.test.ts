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

  it("says in the status bar how the note stands", async () => {
    await workbench.waitForStatus("Job 2031-0071: 3 errors");
    await workbench.screenshot(join(outputFolder, "browser.png"));
  });
});
