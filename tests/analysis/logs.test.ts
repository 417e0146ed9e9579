// Series whose rows stand in a log beside the note, with files that the test writes itself.
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { EvaluationMemo } from "../../server/src/analysis/evaluation-memo.ts";
import { analyze } from "../../server/src/check/analyze.ts";
import { readLog } from "../../server/src/host/read-log.ts";
import { surroundingsOf } from "../../server/src/host/surroundings.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { noShop } from "../../server/src/shop/read-shop.ts";

let root = "";
beforeAll(() => {
  root = mkdtempSync(join(tmpdir(), "witness-mark-logs-"));
  mkdirSync(join(root, "notes"));
  writeFileSync(join(root, "secret.csv"), "t,p\n0,1\n1,2\n");
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

function write(path: string, content: string | Buffer): void {
  const file = join(root, "notes", path);
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, content);
}

/** A note in `notes/`, whose root is that folder, with one series and a few readings on top. */
function check(series: string, readings = "rate [Pa/s] = slope(log p, log t)", memo?: EvaluationMemo) {
  const text = `---\njob: test\n---\n\n\`\`\`series log\n${series}\n\`\`\`\n\n\`\`\`readings\n${readings}\n\`\`\`\n`;
  const note = readNote(text, readYaml);
  const folder = join(root, "notes");
  const around = surroundingsOf(note, folder, (request) => readLog(request, folder, folder));
  const analysis = analyze(note, noShop([]), { ...around, ...(memo ? { memo } : {}) });
  return {
    findings: analysis.findings.map((one) => `${one.rule}: ${one.message} ${one.advice}`),
    value: (name: string) => {
      const shown = analysis.values.find((one) => one.name === name)?.shown;
      return shown?.kind === "quantity" ? shown.value : undefined;
    },
  };
}

const HEAD = "t [s], p [Pa]";

describe("a log beside the note", () => {
  test("gives the same values as the same rows in the note", () => {
    write("logs/a.csv", "time,pressure\n0,3000\n60,2880\n120,2740\n180,2630\n");
    const logged = check(`from: logs/a.csv\n${HEAD}`);
    const inNote = check(`${HEAD}\n0, 3000\n60, 2880\n120, 2740\n180, 2630`);
    expect(logged.findings).toEqual([]);
    expect(logged.value("rate")).toBe(inNote.value("rate"));
  });

  test("reads semicolons, decimal commas, lines before the table, quotes, a byte order mark and CRLF", () => {
    write(
      "logs/b.csv",
      '\uFEFFLogger 7;serial 0001\r\nstarted;"09:10; in the bay"\r\n"Zeit";"Druck; innen"\r\n0,0;"12,50"\r\n1,0;12,25\r\n\r\n2,0;12,00\r\n',
    );
    const found = check(`from: logs/b.csv\nseparator: semicolon\ndecimal: comma\nskip: 2\nt [s], p [kPa]`);
    expect(found.findings).toEqual([]);
    expect(found.value("rate")).toBeCloseTo(-250, 9);
  });

  test("reads tabs, and picks columns by heading or number", () => {
    write("logs/c.tsv", "n\tp2\ttime\tp1\n1\t9\t0\t100\n2\t9\t2\t110\n3\t9\t4\t120\n");
    for (const columns of ["Time, P1", "3, 4", '"time", p1', "3, P1"]) {
      const found = check(`from: logs/c.tsv\nseparator: tab\ncolumns: ${columns}\n${HEAD}`);
      expect(found.findings).toEqual([]);
      expect(found.value("rate")).toBeCloseTo(5, 12);
    }
  });

  test("leaves rows with an empty cell out of every column", () => {
    write("logs/d.csv", "0,100\n1,\n2,120\n,7\n4,140\n");
    const found = check(`from: logs/d.csv\n${HEAD}`, "n = count(log t)\nrate = slope(log p, log t)");
    expect(found.findings).toEqual([]);
    expect(found.value("n")).toBe(3);
    expect(found.value("rate")).toBeCloseTo(10, 12);
  });

  test("takes the resolution from the finest number, as exports drop closing zeros", () => {
    write("logs/e.csv", "0,12\n1,12\n2,12\n");
    write("logs/f.csv", "0,12\n1,12.0\n2,12.00\n");
    const of = (path: string) => {
      const note = readNote(
        `---\njob: t\n---\n\n\`\`\`series log\nfrom: ${path}\n${HEAD}\n\`\`\`\n\n\`\`\`readings\nm = mean(log p)\n\`\`\`\n`,
        readYaml,
      );
      const folder = join(root, "notes");
      const { values } = analyze(
        note,
        noShop([]),
        surroundingsOf(note, folder, (request) => readLog(request, folder, folder)),
      );
      const shown = values[0]?.shown;
      return shown?.kind === "quantity" ? shown.uncertainty : undefined;
    };
    expect((of("logs/e.csv") ?? 0) / (of("logs/f.csv") ?? 1)).toBeCloseTo(100, 6);
  });
});

describe("what cannot be read is said with its row", () => {
  test("a cell that is no number", () => {
    write("logs/g.csv", "t,p\n0,100\n1,open\n2,120\n3,short\n");
    const [found] = check(`from: logs/g.csv\n${HEAD}`).findings;
    expect(found).toMatch(
      /^note\/syntax: Row 3 of `logs\/g.csv`: `open` in column 2 is not a number\. So is one more row\./,
    );
  });

  test("a decimal comma, with the line that mends it", () => {
    write("logs/h.csv", "0;12,5\n1;12,6\n");
    expect(check(`from: logs/h.csv\nseparator: semicolon\n${HEAD}`).findings[0]).toContain(
      "`decimal: comma`",
    );
  });

  test("another separator, with the line that mends it", () => {
    write("logs/i.csv", "t;p\n0;12\n1;13\n");
    write("logs/j.csv", "t\tp\n0\t12\n1\t13\n");
    expect(check(`from: logs/i.csv\n${HEAD}`).findings[0]).toContain("`separator: semicolon`");
    expect(check(`from: logs/j.csv\n${HEAD}`).findings[0]).toContain("`separator: tab`");
  });

  test("a row too short, a heading that is not there, a quote never closed, nothing at all", () => {
    write("logs/k.csv", "t,p\n0,12\n1\n2,13\n");
    expect(check(`from: logs/k.csv\n${HEAD}`).findings[0]).toContain("Row 3 of `logs/k.csv` has 1 cell");
    const head = check(`from: logs/k.csv\ncolumns: t, druck\n${HEAD}`).findings[0];
    expect(head).toContain("has no column `druck`");
    expect(head).toContain("`t`, `p`");
    write("logs/l.csv", 't,p\n0,"12\n1,13\n');
    expect(check(`from: logs/l.csv\n${HEAD}`).findings[0]).toContain("a quote is opened and not closed");
    write("logs/m.csv", "");
    expect(check(`from: logs/m.csv\n${HEAD}`).findings[0]).toContain("holds no rows");
    write("logs/n.csv", Buffer.from("t,p\n0,1\n", "utf16le"));
    expect(check(`from: logs/n.csv\n${HEAD}`).findings[0]).toContain("UTF-8");
  });

  test("options that say nothing sensible", () => {
    write("logs/o.csv", "0,1\n1,2\n");
    expect(check(`from: logs/o.csv\nseparator: semikolon\n${HEAD}`).findings[0]).toContain("`semicolon`");
    expect(check(`from: logs/o.csv\ndecimal: dot\n${HEAD}`).findings[0]).toContain(
      "`decimal` cannot be `dot`",
    );
    expect(check(`from: logs/o.csv\nskip: all\n${HEAD}`).findings[0]).toContain("`skip` cannot be `all`");
    expect(check(`from: logs/o.csv\ncolumns: a\n${HEAD}`).findings[0]).toContain("names 1 columns");
    expect(check(`separator: semicolon\n${HEAD}\n0, 1\n1, 2`).findings[0]).toContain("which file");
    expect(check(`from: logs/o.csv\n${HEAD}\n0, 1`).findings[0]).toContain("rows in the note are not read");
  });

  test("a log that is not there is a missing file", () => {
    expect(check(`from: logs/nowhere.csv\n${HEAD}`).findings).toEqual([
      expect.stringMatching(/^note\/missing-file: The log `logs\/nowhere.csv` is not there/),
    ]);
  });
});

describe("a path that leaves the folder of the notes is refused", () => {
  const refused = (path: string) => check(`from: ${path}\n${HEAD}`).findings;

  test.each([
    "../secret.csv",
    "logs/../../secret.csv",
    "/etc/hostname",
    "C:\\secret.csv",
    "\\\\host\\share\\a.csv",
    "..",
    ".",
  ])("%s", (path) => {
    const [found, ...others] = refused(path);
    expect(found).toContain("leads out of the folder of the notes");
    expect(others).toEqual([]);
  });

  test("also through a link", () => {
    symlinkSync(join(root, "secret.csv"), join(root, "notes", "link.csv"));
    symlinkSync(root, join(root, "notes", "up"));
    expect(refused("link.csv")[0]).toContain("leads out");
    expect(refused("up/secret.csv")[0]).toContain("leads out");
  });

  test("but may go through a folder above, inside the root", () => {
    write("logs/p.csv", "0,1\n1,2\n");
    const folder = join(root, "notes", "2031");
    mkdirSync(folder, { recursive: true });
    const text = `---\njob: t\n---\n\n\`\`\`series log\nfrom: ../logs/p.csv\n${HEAD}\n\`\`\`\n`;
    const note = readNote(text, readYaml);
    const around = surroundingsOf(note, folder, (request) => readLog(request, folder, join(root, "notes")));
    expect(analyze(note, noShop([]), around).findings).toEqual([]);
  });
});

test("a log that changed is worked out again although the note did not", () => {
  const memo = new EvaluationMemo();
  const series = `from: logs/q.csv\n${HEAD}`;
  write("logs/q.csv", "0,1\n1,2\n2,3\n");
  expect(check(series, undefined, memo).value("rate")).toBeCloseTo(1, 12);
  write("logs/q.csv", "0,1\n1,3\n2,5\n");
  expect(check(series, undefined, memo).value("rate")).toBeCloseTo(2, 12);
});

test("a million rows are read", () => {
  const rows = 1_000_000;
  const parts: string[] = ["time,pressure,temperature"];
  for (let i = 0; i < rows; i++) parts.push(`${i / 10},${(3000 - i * 0.001).toFixed(3)},19.5`);
  write("logs/big.csv", parts.join("\n"));
  parts.length = 0;
  const found = check(
    "from: logs/big.csv\nt [s], p [Pa], T [degC]",
    "rate [Pa/s] = slope(log p, log t)\nn = count(log T)\nlowest [Pa] = least(log p)\nreach [Pa] = span(log p)",
  );
  expect(found.findings).toEqual([]);
  expect(found.value("n")).toBe(rows);
  expect(found.value("rate")).toBeCloseTo(-0.01, 9);
  expect(found.value("lowest")).toBeCloseTo(2000.001, 6);
}, 60_000);
