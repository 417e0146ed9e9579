import { copyFileSync, mkdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { outputFolder, samplesFolder, screenshotsFolder, vsixPath } from "./paths.ts";
import { Workbench } from "./workbench.ts";

// What the tests look for; everything that names the extension's own words is here.
const NOTE_NAME = "host-check.md";
const PROSE = "The lens is bonded.";
const NOTE = `---
job: 2031-0901
procedure: general
subject: invented lamp for the editor test
vehicle: { description: farm utility, year: 2024 }
complaint: droplets
by: tech 3
status: open
---

${PROSE}

\`\`\`readings
test pressure: 0.80 psi
lens area: 310 cm2
lens force [N] = test pressure * lens area
supply current: 9,1 A
\`\`\`
`;
const MISTAKE = "9,1 A";
const MENDED = "9.1 A";
const RULE = "unit/decimal-comma";
const FIX_TITLE = "Write 9.1";
const DERIVED_NAME = "lens force";
// 0.80 psi × 310 cm²: 1 psi is 6894.757 Pa (NIST SP 811, table B.8), so 5515.806 Pa × 0.0310 m² = 170.99 N.
const DERIVED_VALUE = "171";
const RECORD_COMMAND = "Witness Mark: Record results";
const NOTHING_TO_RECORD = "recorded already";
const FORMULA_LINE = "lens force [N] = test pressure * lens area";
const READING_LINE = "lens area: 310 cm2";

// The picture that the README shows: this sample, scrolled so that this text is in the middle.
const PICTURE_SAMPLE = "telematics-box-apprentice.md";
const PICTURE_AT = "bay temperature";
const PICTURE_RULE = "unit/unknown";
/** Set to renew the picture in the repository; else it only lands in the output folder. */
const updateScreenshots = process.env.UPDATE_SCREENSHOTS === "1";

describe("the packaged extension in a served VS Code workbench", () => {
  let workbench: Workbench;

  beforeAll(async () => {
    workbench = await Workbench.start({
      vsix: vsixPath,
      folder: samplesFolder,
      files: { [NOTE_NAME]: NOTE },
    });
    await workbench.openFile(NOTE_NAME);
  });

  afterAll(async () => {
    await workbench?.stop();
  });

  it("underlines the mistake", async () => {
    await workbench.waitForSquiggle();
    await workbench.screenshot(join(outputFolder, "squiggle.png"));
  });

  it("lists the finding with its rule in the Problems panel", async () => {
    const row = await workbench.waitForProblem(RULE);
    expect(row).toMatch(/Ln 17\b/);
  });

  it("draws the derived value with its uncertainty behind the formula", async () => {
    const hint = await workbench.waitForInlayHint("±");
    expect(hint).toContain(DERIVED_VALUE);
    expect(hint).toContain("N");
  });

  it("shows the working when the pointer rests on the derived name", async () => {
    const hover = await workbench.hoverOver(DERIVED_NAME);
    await workbench.screenshot(join(outputFolder, "hover.png"));
    expect(hover).toContain("test pressure");
    expect(hover).toContain(DERIVED_VALUE);
    await workbench.leaveHover();
  });

  it("colours a readings block unlike the prose round it", async () => {
    const prose = new Set((await workbench.styledRuns(PROSE)).map((run) => run.colour));
    const reading = await workbench.styledRuns(READING_LINE);
    const number = reading.find((run) => run.text.includes("310"));
    const name = reading.find((run) => run.text.includes("lens area"));
    expect(number).toBeDefined();
    expect(name).toBeDefined();
    expect(prose).not.toContain(number?.colour);
    expect(number?.style).not.toBe(name?.style);
  });

  it("mends the mistake by a quick fix, and the finding goes away", async () => {
    await workbench.applyQuickFix(MISTAKE, FIX_TITLE);
    await workbench.waitForProblemGone(RULE);
    expect(workbench.savedText()).toBe(NOTE.replace(MISTAKE, MENDED));
    await workbench.screenshot(join(outputFolder, "after-fix.png"));
  });

  it("writes the results into the note by a command, and has nothing to add the second time", async () => {
    await workbench.runCommand(RECORD_COMMAND);
    await workbench.waitUntilDirty();
    await workbench.save();
    const recorded = workbench.savedText();
    const line = recorded.split("\n").find((text) => text.startsWith(FORMULA_LINE));
    expect(line?.slice(FORMULA_LINE.length)).toMatch(/^\s+≈ 171(\.0)? N$/);

    await workbench.runCommand(RECORD_COMMAND);
    await workbench.waitForStatus(NOTHING_TO_RECORD);
    await workbench.save();
    expect(workbench.savedText()).toBe(recorded);
  });

  it("shows findings and derived values on a sample, as in the README's picture", async () => {
    await workbench.runCommand("View: Close All Editors");
    // The note made for the tests is no sample and has no place in the picture.
    rmSync(join(workbench.folder, NOTE_NAME));
    // Until its row is gone the others may still move up under the pointer.
    await workbench.waitForFileGone(NOTE_NAME);
    await workbench.openFile(PICTURE_SAMPLE);
    await workbench.reveal(PICTURE_AT);
    await workbench.waitForSquiggle();
    await workbench.waitForInlayHint("±");
    await workbench.waitForProblem(PICTURE_RULE);
    await workbench.waitForStatus(NOTHING_TO_RECORD, false);
    await workbench.leaveHover();
    const picture = join(outputFolder, "editor.png");
    await workbench.screenshot(picture);
    if (updateScreenshots) {
      mkdirSync(screenshotsFolder, { recursive: true });
      copyFileSync(picture, join(screenshotsFolder, "editor.png"));
    }
  });
});

describe("the packaged extension in a folder that is not trusted", () => {
  let workbench: Workbench;

  beforeAll(async () => {
    workbench = await Workbench.start({ vsix: vsixPath, files: { [NOTE_NAME]: NOTE }, trusted: false });
  });

  afterAll(async () => {
    await workbench?.stop();
  });

  it("still checks the note, since checking runs nothing from the folder", async () => {
    expect(await workbench.isRestricted()).toBe(true);
    await workbench.openFile(NOTE_NAME);
    await workbench.waitForSquiggle();
    await workbench.waitForProblem(RULE);
    await workbench.screenshot(join(outputFolder, "restricted.png"));
  });
});
