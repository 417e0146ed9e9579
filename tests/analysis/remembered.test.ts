// What is remembered between versions of a text saves time and never changes an answer: after every random
// edit the analysis with memory equals one from scratch, findings, values, workings and edits alike.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Analysis } from "../../server/src/analysis/analysis.ts";
import { EvaluationMemo } from "../../server/src/analysis/evaluation-memo.ts";
import { analyze } from "../../server/src/check/analyze.ts";
import { readShop } from "../../server/src/check/read-shop.ts";
import { LineMemo } from "../../server/src/note/line-memo.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { noShop } from "../../server/src/shop/read-shop.ts";
import { generateNote } from "../generate/notes.ts";

const SAMPLES = join(import.meta.dirname, "../../samples");
const shop = readShop(readFileSync(join(SAMPLES, "shop.yaml"), "utf8"), readYaml, builtInProcedures);
const without = noShop(builtInProcedures);

const texts: readonly string[] = [
  ...["rear-lamp", "two-testers-bench", "vapour-line-apprentice", "coolant-loss-tractor"].map((name) =>
    readFileSync(join(SAMPLES, `${name}.md`), "utf8"),
  ),
  generateNote(3),
  generateNote(11),
  "---\njob: t\n---\n\n```readings\na = b + 1\nb = c\nc: 2 m\nd = t + a\n```\n\n```series log\nt [s], T [degC]\n0, 20\n1, 21\n```\n\n```readings two\na: 3\nb = a\nx: 1.0 m ± 0.9 m\ny = x ^ 2\n```\n",
];

/** All that can be told of a note, without identities. */
function told(analysis: Analysis): unknown {
  return {
    findings: analysis.findings,
    accepted: analysis.accepted,
    values: analysis.values.map((value) => ({
      ...value,
      shown: value.shown && { ...value.shown, text: value.shown.text },
      working: analysis.working(value),
    })),
    limits: analysis.limits.map(({ placed, verdict, margin, uncertainty, operator }) => ({
      ...{ line: placed.line, offset: placed.offset, text: placed.syntax },
      ...{ verdict, margin, uncertainty, operator },
    })),
    uses: analysis.nameUses(),
    edits: analysis.recordResults(),
  };
}

const PIECES = [
  "0",
  "9",
  ".",
  ",",
  " ",
  "\n",
  "a",
  "b",
  "t",
  "T",
  "=",
  ":",
  "±",
  "[",
  "]",
  "(",
  ")",
  "`",
  "```",
  "#",
  "-",
  "psi",
  "≈",
  "\r\n",
  "via P1",
  "\n```\n",
  "```readings b\n",
  "\n---\n",
  // Names that are there already, under another label or as another column.
  "\na: 5 m\n",
  "\na = c\n",
  "\nb = a\n",
  "\nb =\n",
  ", T [K]",
  ", t [s]",
  " two",
] as const;

/** One edit: some text out at a place, some in; places as shares of the length, so that they fit any text. */
const edit = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  out: fc.oneof({ weight: 4, arbitrary: fc.constant(0) }, { weight: 3, arbitrary: fc.nat(3) }, fc.nat(60)),
  put: fc.oneof(
    { weight: 4, arbitrary: fc.constantFrom(...PIECES) },
    { weight: 1, arbitrary: fc.constant("") },
    // A line copied from elsewhere in the text.
    { weight: 2, arbitrary: fc.double({ min: 0, max: 1, noNaN: true }) },
  ),
});

function edited(text: string, { at, out, put }: { at: number; out: number; put: string | number }): string {
  const from = Math.floor(at * text.length);
  if (typeof put === "string") return text.slice(0, from) + put + text.slice(from + out);
  const lines = text.split("\n");
  const copied = lines[Math.floor(put * lines.length)] ?? "";
  const start = text.lastIndexOf("\n", from) + 1;
  return `${text.slice(0, start)}${copied}\n${text.slice(start + out)}`;
}

describe("after random edits, with memory as without", () => {
  test.each(texts.map((text, i) => [i, text] as const))(
    "text %i",
    (_, text) => {
      fc.assert(
        fc.property(fc.array(edit, { minLength: 1, maxLength: 12 }), fc.boolean(), (edits, undo) => {
          const lines = new LineMemo();
          const memo = new EvaluationMemo();
          let current = text;
          const versions = [text, ...edits.map((one) => (current = edited(current, one)))];
          if (undo) versions.push(...versions.slice(0, -1).reverse());
          for (const version of versions) {
            const remembered = told(analyze(readNote(version, readYaml, lines), shop, { memo }));
            expect(remembered).toEqual(told(analyze(readNote(version, readYaml), shop)));
          }
        }),
        { numRuns: 12, seed: 20_310_304 },
      );
    },
    60_000,
  );

  test("also where a name without a value comes to mean another one, and that one then gets its value", () => {
    const head = "---\njob: t\n---\n\n```readings\np: 1 xx\n```\n\n```readings a\nq = p * 2\n";
    const memo = new EvaluationMemo();
    const lines = new LineMemo();
    for (const typed of ["", "p:\n", "p: 5 psi\n"]) {
      const text = `${head}${typed}\`\`\`\n`;
      const remembered = analyze(readNote(text, readYaml, lines), shop, { memo });
      expect(told(remembered)).toEqual(told(analyze(readNote(text, readYaml), shop)));
      expect(remembered.values.find(({ key }) => key === "a q")?.shown?.text.slice(0, 8)).toBe(
        typed.includes("5") ? "10.0 psi" : undefined,
      );
    }
  });

  test("also when the shop file comes and goes", () => {
    const text = texts[0] ?? "";
    const memo = new EvaluationMemo();
    const lines = new LineMemo();
    for (const around of [shop, without, shop, without]) {
      expect(told(analyze(readNote(text, readYaml, lines), around, { memo }))).toEqual(
        told(analyze(readNote(text, readYaml), around)),
      );
    }
  });
});
