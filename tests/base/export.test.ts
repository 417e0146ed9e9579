import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { Ajv2020 } from "ajv/dist/2020.js";
import { parse } from "csv-parse/sync";
import { beforeAll, describe, expect, it } from "vitest";
import { folderWith, runIn } from "../cli/run-in.ts";
import { generateNotes } from "../generate/notes.ts";
import { earlierJobs, noteText } from "./earlier-jobs.ts";

const TRAPS = `---
job: "=1+1"
x-invented: true
procedure: lamp-moisture
subject: "+lamp, \\"quoted\\""
customer: an invented customer
complaint: "-- none --"
by: "@tech"
vehicle: { year: 2024, plate: XX 123 }
date: 2031-03-04
status: open
---

\`\`\`readings
leak size: 0.39 mm
inside: -4.5 degC
barometer: 98.9 kPa(a)
gauge: 2 psi
warmer: 3 delta degF
state: =cmd
dry: yes
supply: 9.1, 9.3 A via C1
wrong: 1 mmm
\`\`\`

\`\`\`steps
09:00  dry: fan until 10:30
--:--  seal [seam]
\`\`\`
`;
const folder = folderWith({
  ...Object.fromEntries(earlierJobs.map((job) => [`jobs/${job.job}.md`, noteText(job)])),
  ...Object.fromEntries([...generateNotes(60, 3)].map(({ path, text }) => [path, text])),
  "traps.md": TRAPS,
});
const NOTES = earlierJobs.length + 60 + 1;

/** Rows of a query over the exported files. */
async function ask(sql: string): Promise<Record<string, unknown>[]> {
  const instance = await DuckDBInstance.create(":memory:");
  const connection = await instance.connect();
  try {
    const result = await connection.runAndReadAll(sql.replaceAll("'out/", `'${folder}/out/`));
    return result.getRowObjectsJson();
  } finally {
    connection.closeSync();
    instance.closeSync();
  }
}

describe("an export", { timeout: 60_000 }, () => {
  beforeAll(async () => {
    for (const format of ["parquet", "csv"]) {
      const ran = await runIn(folder, ["export", "--format", format, "out", "."]);
      expect(ran).toMatchObject({ status: 0, out: "" });
      expect(ran.err).toContain(`${NOTES} job notes are in out`);
    }
  }, 60_000);

  it("answers every documented query in a real SQL engine", async () => {
    const page = readFileSync(join(import.meta.dirname, "../../grammar/EXPORT.md"), "utf8");
    const queries = [...page.matchAll(/```sql\n([\s\S]*?)```/g)].map((match) => match[1] ?? "");
    expect(queries).toHaveLength(5);
    for (const query of queries) expect((await ask(query)).length, query).toBeGreaterThan(0);
    const [largest] = await ask(queries[0] ?? "");
    expect(largest).toMatchObject({ job: "2030-0021", leak_mm: 2.5 });
  });

  it("says the same in Parquet and in CSV", async () => {
    for (const table of ["notes", "values", "series", "steps", "findings"]) {
      const [sums] = await ask(
        `SELECT (SELECT count(*) FROM 'out/${table}.parquet') AS parquet, (SELECT count(*) FROM read_csv('out/${table}.csv', header = true, all_varchar = true)) AS csv`,
      );
      expect(sums?.parquet, table).toEqual(sums?.csv);
    }
    const [sums] = await ask(
      "SELECT (SELECT sum(si_value) FROM 'out/values.parquet') AS parquet, (SELECT sum(si_value) FROM read_csv('out/values.csv')) AS csv",
    );
    expect(Number(sums?.csv) / Number(sums?.parquet)).toBeCloseTo(1, 12);
  });

  it("has real types and units that other programs know", async () => {
    const types = await ask("DESCRIBE SELECT * FROM 'out/notes.parquet'");
    expect(types.find(({ column_name }) => column_name === "date")).toMatchObject({ column_type: "DATE" });
    const values = await ask(
      "SELECT name, value, unit, ucum, scale, si_value, si_ucum, words, truth, instrument FROM 'out/values.parquet' WHERE path = 'traps.md' ORDER BY line",
    );
    expect(values.map(({ name, unit, ucum, scale, si_ucum }) => [name, unit, ucum, scale, si_ucum])).toEqual([
      ["leak size", "mm", "mm", "plain", "m"],
      ["inside", "degC", "Cel", "point", "K"],
      ["barometer", "kPa(a)", "kPa", "absolute", "m-1.kg.s-2"],
      ["gauge", "psi", "[psi]", "gauge", "m-1.kg.s-2"],
      ["warmer", "delta degF", null, "difference", "K"],
      ["state", null, null, null, null],
      ["dry", null, null, null, null],
      ["supply", "A", "A", "plain", "A"],
      ["wrong", null, null, null, null],
    ]);
    expect(values[1]).toMatchObject({ value: -4.5, si_value: 268.65 });
    expect(values[6]).toMatchObject({ truth: true });
    expect(values[7]).toMatchObject({ value: 9.2, instrument: "C1" });
    expect(values[8]).toMatchObject({ value: null, si_value: null });
  });

  it("gives a spreadsheet nothing to run, and keeps negative numbers as numbers", () => {
    // OWASP, CSV Injection: cells that begin with = + - @, a tab or a carriage return.
    for (const table of ["notes", "values", "steps", "findings"]) {
      const rows: string[][] = parse(readFileSync(join(folder, `out/${table}.csv`)));
      const cells = rows.flat().filter((cell) => /^[=+@\t\r-]/.test(cell));
      for (const cell of cells) expect(cell).toMatch(/^-\d+(?:\.\d+)?(?:e-?\d+)?$/);
    }
    const notes = readFileSync(join(folder, "out/notes.csv"), "utf8");
    expect(notes).toContain("'=1+1");
    expect(notes).toContain('"\'+lamp, ""quoted"""');
    expect(readFileSync(join(folder, "out/values.csv"), "utf8")).toContain(",-4.5,degC,");
  });

  it("tells who the customer is only when asked to", async () => {
    expect(readFileSync(join(folder, "out/notes.csv"), "utf8")).not.toMatch(/invented customer|XX 123/);
    await runIn(folder, ["export", "--format", "csv", "--personal", "personal", "traps.md"]);
    expect(readFileSync(join(folder, "personal/notes.csv"), "utf8")).toMatch(/an invented customer,.*XX 123/);
  });

  it("fits the published schema as NDJSON", async () => {
    const ran = await runIn(folder, ["export", "--format", "ndjson", "all.ndjson", "."]);
    expect(ran.status).toBe(0);
    const schema: object = JSON.parse(
      readFileSync(join(import.meta.dirname, "../../grammar/export.schema.json"), "utf8"),
    );
    const validate = new Ajv2020({ allErrors: true, allowUnionTypes: true }).compile(schema);
    const lines = readFileSync(join(folder, "all.ndjson"), "utf8").trimEnd().split("\n");
    expect(lines).toHaveLength(NOTES);
    for (const line of lines) {
      validate(JSON.parse(line));
      expect(validate.errors ?? []).toEqual([]);
    }
    const traps = JSON.parse(lines.find((line) => line.includes('"traps.md"')) ?? "");
    expect(traps.fields).not.toHaveProperty("customer");
    expect(traps.values[7]).toMatchObject({ readings: [9.1, 9.3], ucum: "A", si: { value: 9.2, ucum: "A" } });
  });

  it("leaves nothing half written", async () => {
    writeFileSync(join(folder, "file"), "kept");
    const ran = await runIn(folder, ["export", "--format", "parquet", "file", "traps.md"]);
    expect(ran.status).toBe(2);
    expect(readFileSync(join(folder, "file"), "utf8")).toBe("kept");
    expect(await runIn(folder, ["export", "--format", "ndjson", "no/such/folder.ndjson", "."])).toMatchObject(
      {
        status: 2,
        err: "no/such/folder.ndjson is not there.\n",
      },
    );
    expect(existsSync(join(folder, "no"))).toBe(false);
    for (const place of ["", "out"]) {
      expect(readdirSync(join(folder, place)).filter((name) => name.endsWith(".part"))).toEqual([]);
    }
  });
});
