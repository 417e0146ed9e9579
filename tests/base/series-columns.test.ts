import { beforeAll, describe, expect, it } from "vitest";
import { folderWith, runIn } from "../cli/run-in.ts";

const series = (job: number, rows: string, header = "time [s], p [kPa], T [degC]"): string =>
  `---\njob: 2031-${job}\nx-invented: true\nprocedure: general\ndate: 2031-02-1${job}\nstatus: open\n---\n\n\`\`\`series decay\n${header}\n${rows}\n\`\`\`\n`;
const folder = folderWith({
  // By hand: mean 2.4, sample standard deviation √((0.6² + 0 + 0.6²)/2) = 0.6, slope −1.2 kPa in 120 s.
  "1.md": series(1, "0, 3.0, 19.5\n60, 2.4, 19.6\n120, 1.8, 19.7"),
  "2.md": series(2, "0, 5.00, 20\n60, 5.00, 20\n120, 4.99, 20"),
  "3.md": series(3, "0, 12.0\n60, 11.9", "time [s], q [inH2O]"),
  "4.md": "---\njob: 2031-4\nx-invented: true\nprocedure: general\nstatus: open\n---\n\nNo series.\n",
  "5.md": series(5, "7.1\n7.3", "p [kPa]"),
  // Columns that differ in case alone.
  "6.md": series(6, "0, 1.0, 60\n60, 1.0, 61", "v [s], r [m], R [Ω]"),
  "7.md": series(7, "0, 50\n60, 51", "v [s], V [V]"),
});

describe("columns of series among many notes", () => {
  const found = async (condition: string): Promise<string[]> => {
    const ran = await runIn(folder, ["find", condition, "--format", "json"]);
    expect(ran.err).toBe("");
    return JSON.parse(ran.out).notes.map(({ path }: { path: string }) => path);
  };

  it.each([
    ["spread(decay p) > 0.5 kPa", ["1.md"]],
    ["mean(decay p) > 2.39 kPa and mean(decay p) < 2.41 kPa", ["1.md"]],
    ["decay p > 5 psi", []],
    ["decay p > 4 kPa", ["2.md", "5.md"]],
    ["slope(decay p, decay time) < -0.5 kPa/min", ["1.md"]],
    ["first(decay p) - last(decay p) >= 10 Pa", ["1.md", "2.md"]],
    ["greatest(decay T) > 19.65 degC", ["1.md", "2.md"]],
    ["least(decay q) < 12 inH2O", ["3.md"]],
    ["count(decay p) == 2", ["5.md"]],
    ["greatest(decay R) > 60.5 Ω", ["6.md"]],
    ["greatest(decay r) < 1.5 m", ["6.md"]],
    ["slope(decay V, decay v) > 0 V/s", ["7.md"]],
    ["decay V > 50 V", ["7.md"]],
    ["count(decay p) == 3 and not spread(decay p) > 0.5 kPa", ["2.md"]],
  ])("are found by %s", async (condition, paths) => {
    expect(await found(condition)).toEqual(paths);
  });

  it("give the same figures and uncertainties as a formula in the note", async () => {
    const formulas = [
      "mean [kPa] = mean(decay p)",
      "spread [kPa] = spread(decay p)",
      "slope [Pa/s] = slope(decay p, decay time)",
    ];
    const both = folderWith({
      "a.md": `${series(1, "0, 3.0, 19.5\n60, 2.4, 19.6\n120, 1.9, 19.7")}\n\`\`\`readings\n${formulas.join("\n")}\n\`\`\`\n`,
    });
    const columns = ["mean(decay p) [kPa]", "spread(decay p) [kPa]", "slope(decay p, decay time) [Pa/s]"];
    const ran = await runIn(both, [
      "table",
      ...columns,
      "mean [kPa]",
      "spread [kPa]",
      "slope [Pa/s]",
      "--format",
      "json",
    ]);
    const points = JSON.parse(ran.out).groups.map(
      ({ points: [point] }: { points: { value: number; uncertainty: number }[] }) => point,
    );
    expect(points).toHaveLength(6);
    for (const i of [0, 1, 2]) {
      expect(points[i].value).toBeCloseTo(points[i + 3].value, 9);
      expect(points[i].uncertainty).toBeCloseTo(points[i + 3].uncertainty, 9);
    }
    expect(points[1].uncertainty).toBeGreaterThan(0);
  });

  it("stand in a table and in the list of what was found", async () => {
    const table = await runIn(folder, ["table", "slope(decay p, decay time) [Pa/s]", "--format", "csv"]);
    expect(table.out.split("\r\n")[1]).toMatch(/Pa\/s,2,-5\.04/);
    const list = await runIn(folder, ["find", "spread(decay p) > 0.5 kPa"]);
    expect(list.out).toMatch(/spread\(decay p\).*\n.*\n1\.md .*0\.6 kPa ± /);
  });

  it("says what no note has, and offers what is near", async () => {
    const ran = await runIn(folder, ["find", "spread(decay pp) > 1 kPa"]);
    expect(ran.status).toBe(2);
    expect(ran.err).toContain("Did you mean `decay p`");
    // Nor is the column that the rows go over, and one that differs from it in case is not taken for it.
    expect((await runIn(folder, ["find", "count(decay v) > 0"])).status).toBe(2);
    // The slope over another column than the first is not kept.
    expect((await runIn(folder, ["find", "slope(decay time, decay p) > 0 s/kPa"])).status).toBe(2);
  });

  describe("in an export", () => {
    let line: { columns?: { name: string; over?: string; count: number; figures: object }[] };
    beforeAll(async () => {
      const { readFileSync } = await import("node:fs");
      await runIn(folder, ["export", "--format", "ndjson", "out.ndjson", "."]);
      line = JSON.parse(readFileSync(`${folder}/out.ndjson`, "utf8").split("\n")[0] ?? "");
    });

    it("come with UCUM codes and SI values", () => {
      const [p, T] = line.columns ?? [];
      expect(p).toMatchObject({
        name: "decay p",
        over: "decay time",
        count: 3,
        figures: {
          mean: {
            value: 2.4,
            unit: "kPa",
            ucum: "kPa",
            scale: "gauge",
            si: { value: 2400, ucum: "m-1.kg.s-2" },
          },
          first: { value: 3, si: { value: 3000 } },
          last: { value: 1.8 },
          slope: { si: { ucum: "m-1.kg.s-3" } },
        },
      });
      expect(T).toMatchObject({ name: "decay T", figures: { mean: { value: 19.6, scale: "point" } } });
    });
  });
});
