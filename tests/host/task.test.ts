import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { outputFolder, vsixPath } from "./paths.ts";
import { Workbench } from "./workbench.ts";

const note = (job: string, reading: string): string =>
  `---\njob: ${job}\nprocedure: general\nstatus: open\n---\n\n# Job\n\n\`\`\`readings\n${reading}\n\`\`\`\n`;

const OPEN = "open.md";
const CLOSED = "closed.md";
const OPEN_ROW = "unit/decimal-comma[Ln 10, Col 17]";
const CLOSED_ROW = "unit/unknown[Ln 10, Col 20]";

describe("the task that checks all notes, with the extension's problem matcher", () => {
  let workbench: Workbench;

  const count = async (part: string): Promise<number> =>
    (await workbench.problemsRows()).filter((row) => row.includes(part)).length;

  beforeAll(async () => {
    workbench = await Workbench.start({
      vsix: vsixPath,
      files: {
        [OPEN]: note("2031-0911", "supply current: 9,1 A"),
        [CLOSED]: note("2031-0912", "test pressure: 0.8 pis"),
        "clean.md": note("2031-0913", "test pressure: 0.80 psi"),
      },
    });
    await workbench.openFile(OPEN);
    await workbench.waitForProblem(OPEN_ROW);
  });

  afterAll(async () => {
    await workbench?.stop();
  });

  it("lists the findings of notes that are not open, with rule and place, and no finding twice", async () => {
    expect(await count(CLOSED_ROW)).toBe(0);
    await workbench.runTask("witness-mark", "Check all job notes");
    await workbench.waitForProblem(CLOSED_ROW);
    expect(await count(CLOSED)).toBe(1);
    expect(await count(OPEN_ROW)).toBe(1);
    expect(await count("clean.md")).toBe(0);
    await workbench.screenshot(join(outputFolder, "task.png"));
  });

  it("leaves a note to the language server once it is opened", async () => {
    await workbench.openFile(CLOSED);
    // The two are told apart by who found it: the server's source, and the task's.
    await workbench.waitForProblem(`witness-mark${CLOSED_ROW}`);
    await workbench.waitForProblemGone(`Witness Mark${CLOSED_ROW}`);
    expect(await count(CLOSED_ROW)).toBe(1);
    await workbench.screenshot(join(outputFolder, "task-opened.png"));
  });
});
