import { spawnSync } from "node:child_process";
import { describe, expect, it } from "vitest";
import { allUnitSpellings } from "../../server/src/units/index.ts";
import { GNU_POINTS, gnuExpression, NOT_IN_GNU } from "./gnu-expressions.ts";
import { convert, relative, siUnits, unit } from "./helpers.ts";

// Source of this file's checks: GNU units 2.22 (Debian package `units`) with its own table of definitions.

interface Question {
  readonly have: string;
  readonly want: string;
}

/** All questions in one run of the program; strict, so that it never answers with a reciprocal. */
function askGnu(questions: readonly Question[]): readonly number[] | undefined {
  const input = questions.map((q) => `${q.have}\n${q.want}\n`).join("");
  const run = spawnSync("units", ["--terse", "--output-format", "%.17g"], { input, encoding: "utf8" });
  if (run.error) return undefined;
  const answers = run.stdout.trim().split("\n");
  if (answers.length !== questions.length)
    throw new Error(
      `GNU units did not understand: ${answers.filter((a) => Number.isNaN(Number(a))).join("; ")}`,
    );
  return answers.map(Number);
}

const spellings = allUnitSpellings().filter((spelling) => {
  const { scale } = unit(spelling);
  const stated = scale === "absolute" || spelling.endsWith("(g)") || spelling === "psig";
  return !stated && scale !== "point" && !(spelling in NOT_IN_GNU);
});
const si = (spelling: string): string => siUnits(unit(spelling).dimension, "^", " ").replace(/^$/, "1");

const present = askGnu([{ have: "inch", want: "m" }]) !== undefined;

describe("GNU units gives the same conversions", () => {
  if (!present) {
    it("is not installed here, so its checks are left out; in CI it has to be there", () => {
      expect(process.env.CI, "install the Debian package `units`").toBeFalsy();
    });
    return;
  }

  it(`for all ${spellings.length} spellings, to SI and back`, () => {
    const toSi =
      askGnu(spellings.map((spelling) => ({ have: gnuExpression(spelling), want: si(spelling) }))) ?? [];
    const back =
      askGnu(spellings.map((spelling) => ({ have: si(spelling), want: gnuExpression(spelling) }))) ?? [];
    const wrong = spellings.flatMap((spelling, i) => {
      const ours = unit(spelling).factor;
      const off = relative(ours, toSi[i] ?? Number.NaN) + relative(1 / ours, back[i] ?? Number.NaN);
      return off < 4e-15 * 100 ? [] : [`${spelling}: ours ${ours}, GNU ${toSi[i]} and back ${back[i]}`];
    });
    expect(wrong).toEqual([]);
  });

  it("for points on the temperature scales", () => {
    const values = [-40, -17.8, 0, 19.5, 37, 80, 212];
    for (const [from, gnuFrom] of Object.entries(GNU_POINTS)) {
      for (const [to, gnuTo] of [...Object.entries(GNU_POINTS), ["K", "K"] as const]) {
        const theirs = askGnu(values.map((value) => ({ have: `${gnuFrom}(${value})`, want: gnuTo }))) ?? [];
        values.forEach((value, i) => {
          expect(convert(value, from, to), `${value} ${from} in ${to}`).toBeCloseTo(
            theirs[i] ?? Number.NaN,
            9,
          );
        });
      }
    }
  });

  it("for each deviation a reason is named", () => {
    for (const reason of Object.values(NOT_IN_GNU)) expect(reason.length).toBeGreaterThan(20);
  });
});
