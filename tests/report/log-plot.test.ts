// The plot of a series whose rows stand in a log: in `sheet`, in `site` and in the preview, on a disk and without one.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import fc from "fast-check";
import MarkdownIt from "markdown-it";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readLog } from "../../server/src/host/read-log.ts";
import { Workspace } from "../../server/src/lsp/workspace.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { extend as extendInBrowser } from "../../server/src/preview/browser.ts";
import { extendPreview, type PreviewHost } from "../../server/src/preview/preview.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { goesForward, MOST_POINTS, thinned } from "../../server/src/report/sheet/thin.ts";
import { folderWith, runIn } from "../cli/run-in.ts";

const ROWS = 20_000;
const SPIKE = 12_345;
const NOTE = `---\njob: 2031-0042\n---\n\n# Log\n\n\`\`\`series decay\nfrom: logs/decay.csv\nt [s], p [Pa], T [degC]\n\`\`\`\n`;

const logRows = (rows = ROWS): string =>
  `time,pressure,temperature\n${Array.from(
    { length: rows },
    (_, i) => `${i},${i === SPIKE ? 9000 : 3000 - i / 10},${19 + (i % 7) / 10}`,
  ).join("\n")}\n`;

const withLog = (log = logRows()) => ({ "a.md": NOTE, "logs/decay.csv": log, "shop.yaml": "" });

/** Heights of the line's points in a plot. */
const heights = (svg: string): number[] =>
  [...(/class="wm-line" d="([^"]+)"/.exec(svg)?.[1] ?? "").matchAll(/,([\d.]+)/g)].map(([, y]) => Number(y));

function expectPlots(page: string): void {
  const plots = page.match(/<svg class="wm-plot"[\s\S]*?<\/svg>/g) ?? [];
  expect(plots).toHaveLength(2);
  expect(plots[0]).toContain(
    `aria-label="decay: p in Pa against t in s, ${ROWS} points, from 3000 to ${3000 - (ROWS - 1) / 10}, drawn with the lowest and the highest of every stretch"`,
  );
  expect(plots[0]?.length).toBeLessThan(40_000);
  // One point stands far above all others: the spike of a single row.
  const [highest = 0, next = 0] = heights(plots[0] ?? "").sort((a, b) => a - b);
  expect(next - highest).toBeGreaterThan(50);
  expect(page).toContain(`Logged in logs/decay.csv: ${ROWS} rows`);
}

describe("the plot of a log", () => {
  it("is on the sheet for print and on the site", async () => {
    const folder = folderWith(withLog());
    const sheet = await runIn(folder, ["sheet", "a.md"]);
    expect(sheet.status).toBe(0);
    expectPlots(sheet.out);
    expect((await runIn(folder, ["site", "out"])).status).toBe(0);
    expectPlots(readFileSync(join(folder, "out/jobs/a.html"), "utf8"));
  });

  it("is left out where the log cannot be read, and the sheet says so beside the finding", async () => {
    const { out } = await runIn(folderWith({ "a.md": NOTE }), ["sheet", "a.md"]);
    expect(out).not.toContain('<svg class="wm-plot"');
    expect(out).toContain("No plot: the log logs/decay.csv could not be read.");
    expect(out).toContain("note/missing-file");
  });

  it("stands for the log alone where rows are left in the note", async () => {
    const note = NOTE.replace("[degC]\n", "[degC]\n0, 1, 2\n1, 1, 2\n");
    const { out } = await runIn(folderWith({ ...withLog(logRows(4)), "a.md": note }), ["sheet", "a.md"]);
    expect(out).toContain("p in Pa against t in s, 4 points, from 3000 to 2999.7");
    expect(out).toContain("note/syntax");
  });

  it("is drawn as points where the logger's clock went back", async () => {
    const log = "0,1,19\n60,2,19\n30,3,19\n90,4,20\n";
    const { out } = await runIn(folderWith(withLog(log)), ["sheet", "a.md"]);
    expect(out).not.toContain('wm-line" d=');
    expect(out.match(/<circle /g)).toHaveLength(8);
  });
});

describe("the plot of a log in the preview", () => {
  let folder: string;
  const host: PreviewHost = {
    enabled: () => true,
    noteUri: () => pathToFileURL(join(folder, "a.md")).href,
    openShops: () => [],
    shopText: () => undefined,
    report: (fault) => {
      throw fault;
    },
  };
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "witness-mark-plot-"));
    mkdirSync(join(folder, ".git"));
    mkdirSync(join(folder, "logs"));
    writeFileSync(join(folder, "logs/decay.csv"), logRows());
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  it("is drawn from the disk, and again when the log has changed", () => {
    const workspace = new Workspace({ yaml: readYaml, procedures: () => builtInProcedures, logs: readLog });
    const files = {
      shop: () => {
        workspace.lookAgain();
        return workspace.noShop;
      },
      surroundings: (uri: string | undefined, note: Parameters<Workspace["surroundings"]>[1]) =>
        workspace.surroundings(uri ?? "", note),
    };
    const md = extendPreview(new MarkdownIt(), readYaml, files, host);
    const page = md.render(NOTE);
    expectPlots(page);
    expect(md.render(NOTE)).toBe(page);
    writeFileSync(join(folder, "logs/decay.csv"), logRows(10));
    expect(md.render(NOTE)).toContain("p in Pa against t in s, 10 points");
  });

  it("is not there in a browser, and the sheet says plainly why", () => {
    const page = extendInBrowser(new MarkdownIt(), host).render(NOTE);
    expect(page).not.toContain("wm-plot");
    expect(page).toContain(
      "No plot: the rows stand in logs/decay.csv, and logs are read only where the note lies on a disk, not in a browser or on a virtual file system.",
    );
  });
});

describe("a log thinned to what a plot can show", () => {
  it("keeps its ends and its extremes, in order, and no point of its own making", () => {
    const numbers = fc.array(fc.double({ noNaN: true, noDefaultInfinity: true }), {
      minLength: 1,
      maxLength: 9000,
      size: "max",
    });
    fc.assert(
      fc.property(numbers, (ys) => {
        const points = thinned({ count: ys.length, x: (row) => row, y: (row) => ys[row] ?? 0 });
        expect(points.length).toBeLessThanOrEqual(MOST_POINTS);
        expect(points.every(([x, y]) => ys[x] === y)).toBe(true);
        expect(goesForward({ count: points.length, x: (i) => points[i]?.[0] ?? 0, y: () => 0 })).toBe(true);
        expect([points[0]?.[0], points.at(-1)?.[0]]).toEqual([0, ys.length - 1]);
        const drawn = points.map(([, y]) => y);
        const least = (all: readonly number[]): number => all.reduce((a, b) => Math.min(a, b));
        const most = (all: readonly number[]): number => all.reduce((a, b) => Math.max(a, b));
        expect([least(drawn), most(drawn)]).toEqual([least(ys), most(ys)]);
      }),
      { numRuns: 30 },
    );
  });
});
