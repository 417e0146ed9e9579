import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { analyze } from "../../server/src/check/analyze.ts";
import { format } from "../../server/src/ide/formatting.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { generateNote } from "../generate/notes.ts";
import { applied } from "./applied.ts";
import { FRONT_MATTER, shop } from "./note-at.ts";

const read = (text: string) => readNote(text, readYaml);
const formatted = (text: string): string => applied(text, format(read(text)));
const inBlock = (kind: string, lines: string): string => `${FRONT_MATTER}\`\`\`${kind}\n${lines}\n\`\`\`\n`;
const block = (kind: string, lines: string): string => {
  const text = formatted(inBlock(kind, lines));
  return text.slice(inBlock(kind, "").length - "\n```\n".length, -"\n```\n".length);
};

describe("formatting", () => {
  it("puts one blank where one belongs, and results and comments under each other", () => {
    expect(
      block(
        "readings",
        `  test pressure :  0.80psi  +/-0.05psi via P1 at 9:10 # regulator outlet
lens area:310 cm2
supply current: 9.1,  9.3, 9.2A
lens force[N]=test pressure*lens area ~= 171 N
share = ( lens area+2 cm2 ) / lens area ^ 2   ≈ 0.3 1/cm2 # odd
leak size [mm] = orifice size( 0.42 L/min ,drop:test pressure )
tube: 3/16"
medium:   smoke,  and   more
# a comment of its own`,
      ),
    ).toBe(`test pressure: 0.80 psi ± 0.05 psi via P1 at 09:10        # regulator outlet
lens area: 310 cm2
supply current: 9.1, 9.3, 9.2 A
lens force [N] = test pressure * lens area   ≈ 171 N
share = ( lens area + 2 cm2 ) / lens area^2  ≈ 0.3 1/cm2  # odd
leak size [mm] = orifice size(0.42 L/min, drop: test pressure)
tube: 3/16"
medium: smoke,  and   more
# a comment of its own`);
  });

  it("sets limits with their sources, steps and rows in columns", () => {
    expect(
      block(
        "limits",
        "test pressure≤1 psi source:service information\na < b and c>=2 (acceptance)   source: x",
      ),
    ).toBe(
      "test pressure <= 1 psi         source: service information\na < b and c >= 2 (acceptance)  source: x",
    );
    expect(
      block("steps", "8:40 assess:droplets\n--:--   clean [ lower  seam ] :  as  said  # later\n09:10 seal:"),
    ).toBe("08:40  assess: droplets\n--:--  clean [lower seam]: as  said  # later\n09:10  seal:");
    expect(block("series decay", "t[s],p [inH2O],T [degC]\n0,12.0,19.5\n60,  11.4,19.5\n120,,19.6")).toBe(
      "t [s], p [inH2O], T [degC]\n0,   12.0, 19.5\n60,  11.4, 19.5\n120, ,     19.6",
    );
  });

  it("leaves alone what it cannot read, and all that is no block", () => {
    for (const line of ["flow:  0,9 psi", "pressure   reading", "a  =  2  *  (", "10 m / s"]) {
      expect(block("readings", line)).toBe(line);
    }
    // Without a blank, `m/s` is one unit; with blanks it divides by the reading `s`.
    expect(block("readings", "v = 10 m / s")).toBe("v = 10 m / s");
    expect(block("readings", "v = 10 m/s")).toBe("v = 10 m/s");
    const prose = `${FRONT_MATTER}# A  heading\n\ntext   with  blanks\n\n\`\`\`js\na  =  1\n\`\`\`\n`;
    expect(formatted(prose)).toBe(prose);
  });

  it("works inside quotes and lists, and keeps the ends of lines", () => {
    const quoted = `${FRONT_MATTER}> - x\n>   \`\`\`readings\n>   a  :1 A\n>   \`\`\`\n`.replaceAll(
      "\n",
      "\r\n",
    );
    expect(formatted(quoted)).toBe(quoted.replace("a  :1 A", "a: 1 A"));
  });

  it("changes only the lines asked for, set as the whole block has them", () => {
    const text = inBlock("readings", "a:1 A # x\nlonger name:2 A # y");
    const at = text.indexOf("a:1");
    expect(applied(text, format(read(text), { from: at, to: at }))).toBe(
      text.replace("a:1 A # x", "a: 1 A            # x"),
    );
  });
});

const folder = join(import.meta.dirname, "../../samples");
const samples = readdirSync(folder)
  .filter((file) => file.endsWith(".md") && file !== "README.md")
  .map((file) => readFileSync(join(folder, file), "utf8"));
const notes = [...samples, ...Array.from({ length: 12 }, (_, i) => generateNote(i, 3))];

/** The note with blanks put in and taken out in its blocks, as hasty typing does. */
function disturbed(text: string, seed: number): string {
  let state = seed;
  const random = (): number => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return state / 2147483648;
  };
  const blocks = read(text).blocks.map(({ range }) => range);
  return text
    .split("")
    .map((character, i) => {
      const inside = blocks.some(({ from, to }) => i > from + 12 && i < to - 4);
      if (!inside || random() > 0.08 || !/[ ,:=*/()[\]]/.test(character)) return character;
      return random() < 0.5 ? `${character} ` : character === " " ? "" : ` ${character}`;
    })
    .join("");
}

describe("formatting of any note", () => {
  const seen = (text: string) => {
    const { values, findings } = analyze(read(text), shop);
    return {
      values: values.map(({ key, kind, shown }) => ({ key, kind, shown })),
      rules: findings.map(({ rule }) => rule).sort(),
    };
  };

  it("is done after one time, and changes neither a value nor a finding nor the prose", () => {
    const hasty = fc.tuple(fc.constantFrom(...notes), fc.nat()).map(([text, seed]) => disturbed(text, seed));
    fc.assert(
      fc.property(fc.oneof(fc.constantFrom(...notes), hasty), (text) => {
        const once = formatted(text);
        expect(formatted(once)).toBe(once);
        expect(seen(once)).toEqual(seen(text));
        const prose = (all: string) => {
          const { blocks } = read(all);
          return blocks.reduceRight(
            (rest, { range }) => rest.slice(0, range.from) + rest.slice(range.to),
            all,
          );
        };
        expect(prose(once)).toBe(prose(text));
      }),
      { numRuns: 150 },
    );
  });
});
