import { describe, expect, it } from "vitest";
import { analyze } from "../../server/src/check/analyze.ts";
import { codeActions } from "../../server/src/ide/code-actions.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { applied } from "./applied.ts";
import { blockAt, FRONT_MATTER, noteAt, shop } from "./note-at.ts";

/** A note whose selection stands between two `$0`. */
function selected(marked: string) {
  const from = marked.indexOf("$0");
  const to = marked.indexOf("$0", from + 2) - 2;
  return { ...noteAt(marked.replace("$0", "").replace("$0", "$0")), from, to };
}
const offered = (at: ReturnType<typeof noteAt>, kind: string, to = at.offset, from = at.offset) =>
  codeActions(at.analysis, shop, { from, to }, [kind]).map(({ title, edits }) => ({
    title,
    text: applied(at.text, edits),
  }));
const rules = (text: string): string[] =>
  analyze(readNote(text, readYaml), shop).findings.map(({ rule }) => rule);

describe("mending all of a kind", () => {
  it("mends every finding like this one, and is not offered for a single one", () => {
    const stale = "a: 2 A\nb = 2 * a ≈ 5$0.0 A\nc = 3 * a ≈ 7.0 A\nd: 0,9 psi";
    const [all] = offered(blockAt("readings", stale), "quickfix.all");
    expect(all?.title).toBe("Mend all 2 of this kind");
    expect(all?.text).toContain("b = 2 * a ≈ 4.0 A\nc = 3 * a ≈ 6.0 A\nd: 0,9 psi");
    expect(offered(blockAt("readings", stale.replace("7.0", "6.0")), "quickfix.all")).toEqual([]);
  });
});

describe("accepting", () => {
  it("prepares the words and leaves the reason to a person", () => {
    const at = blockAt("readings", "a = now$0here");
    const [accept] = offered(at, "quickfix.accept");
    expect(accept?.text).toContain("a = nowhere  # accept reading/undefined: \n");
    // Without a reason nothing is accepted yet.
    expect(rules(accept?.text ?? "")).toEqual(
      expect.arrayContaining(["reading/undefined", "accept/no-reason"]),
    );
    expect(rules((accept?.text ?? "").replace("undefined: ", "undefined: agreed"))).toEqual([]);
  });

  it("goes before the block where the line has a comment already", () => {
    const [accept] = offered(blockAt("readings", "a = now$0here # as told"), "quickfix.accept");
    expect(accept?.text).toContain("<!-- accept reading/undefined:  -->\n```readings\n");
    expect(rules((accept?.text ?? "").replace("undefined: ", "undefined: agreed"))).toEqual([]);
  });
});

describe("giving a part of a formula a name", () => {
  const taken = (marked: string): string | undefined => {
    const { from, to, ...at } = selected(marked);
    return offered(at, "refactor.extract", to, from)[0]?.text;
  };
  const readings = (lines: string): string => `${FRONT_MATTER}\`\`\`readings\n${lines}\n\`\`\`\n`;

  it("puts it on a line above, and leaves the values as they were", () => {
    const before = readings("a: 1 A\nb: 2 A\nc = 3 * $0(a + b)$0 / 2");
    const after = taken(before);
    expect(after).toBe(readings("a: 1 A\nb: 2 A\npart of c = a + b\nc = 3 * part of c / 2"));
    const value = (text: string) =>
      analyze(readNote(text, readYaml), shop).values.find(({ key }) => key === "c")?.shown;
    expect(value(after ?? "")).toEqual(value(before.replaceAll("$0", "")));
  });

  it("finds a name that is free, and keeps to the block's label and quote marks", () => {
    expect(taken(readings("part of c: 1 A\nc = 2 * $0mean(1 A, 2 A)$0"))).toBe(
      readings("part of c: 1 A\npart of c 2 = mean(1 A, 2 A)\nc = 2 * part of c 2"),
    );
    const quoted = `${FRONT_MATTER}> \`\`\`readings x\n> a: 1 A\n> c = 2 * $0a * 3$0\n> \`\`\`\n`;
    // `2 * a * 3` is (2 * a) * 3, so `a * 3` is no part of it.
    expect(taken(quoted)).toBeUndefined();
    expect(taken(quoted.replace("2 * $0a * 3$0", "$02 * a$0 * 3"))).toBe(
      `${FRONT_MATTER}> \`\`\`readings x\n> a: 1 A\n> part of c = 2 * a\n> c = part of c * 3\n> \`\`\`\n`,
    );
  });

  it("takes a limit's part to the readings", () => {
    const note = `${readings("a: 1 A")}\n\`\`\`limits\n$0a * 2$0 <= 5 A\n\`\`\`\n`;
    expect(taken(note)).toBe(
      `${readings("a: 1 A\npart of a limit = a * 2")}\n\`\`\`limits\npart of a limit <= 5 A\n\`\`\`\n`,
    );
  });

  it("is not offered for a name, a half part, or nothing", () => {
    expect(taken(readings("a: 1 A\nc = 2 * $0a$0"))).toBeUndefined();
    expect(taken(readings("a: 1 A\nc = 2 * $0(a$0 + 1 A)"))).toBeUndefined();
    expect(taken(readings("a: 1 A\nc = $0$02 * a"))).toBeUndefined();
  });
});

describe("other units", () => {
  const found = (kind: string, lines: string): readonly string[] =>
    offered(blockAt(kind, lines), "refactor.rewrite").map(({ title, text }) => {
      const line = text.split("\n").slice(7, -2);
      return `${title} → ${line.join(" / ")}`;
    });

  it("show a result in another unit", () => {
    expect(found("readings", "a: 1 psi\nb$0 = 2 * a")).toContain(
      "Show it in kPa → a: 1 psi / b [kPa] = 2 * a",
    );
    expect(found("readings", "b [p$0si] = 2 * 1 kPa")).toContain("Show it in kPa → b [kPa] = 2 * 1 kPa");
  });

  // 1 psi = 6.894757 kPa: NIST SP 811 (2008), table B.8. 32 degF = 0 degC: the same, B.8.
  it("convert a number of a formula or limit, a temperature as a point", () => {
    expect(found("limits", "p <= 1 ps$0i")).toContain("Write 6.894757 kPa → p <= 6.894757 kPa");
    expect(found("limits", "t <= 32 deg$0F")).toContain("Write 0 degC → t <= 0 degC");
    expect(found("limits", "p <= 1 ps$0ia").join()).not.toContain(" kPa ");
  });

  it("leave what was read as it was read, and add a line", () => {
    expect(found("readings", "a: 1 ps$0i")).toContain("Also show it in kPa → a: 1 psi / a in kPa [kPa] = a");
    expect(found("readings", "a: smo$0ke")).toEqual([]);
  });
});
