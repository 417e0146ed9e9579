import { describe, expect, it } from "vitest";
import { analyze } from "../../server/src/check/analyze.ts";
import { definitionAt } from "../../server/src/ide/definition.ts";
import { highlightsAt, referencesAt } from "../../server/src/ide/references.ts";
import { rename, renameableAt } from "../../server/src/ide/rename.ts";
import { signatureHelp } from "../../server/src/ide/signature-help.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { applied } from "./applied.ts";
import { blockAt, FRONT_MATTER, noteAt, shop } from "./note-at.ts";

const NOTE = `${FRONT_MATTER}\`\`\`readings
flow: 0.42 L/min via F1
area: 2 cm2
speed [m/s] = flow / area
\`\`\`

\`\`\`readings retest
flow: 0.21 L/min
share = flow / speed
\`\`\`

\`\`\`limits
retest flow <= flow
flow <= 1 L/min
\`\`\`

\`\`\`steps
08:40  locate [lower seam]: found
08:50  clean [Lower Seam]
09:10  seal [upper seam]
\`\`\`
`;
/** The note with the cursor right behind the first occurrence of a text. */
const behind = (part: string) => noteAt(NOTE.replace(part, `${part}$0`));
const textsAt = (text: string, ranges: readonly { from: number; to: number }[]) =>
  ranges.map(({ from, to }) => `${text.slice(0, from).split("\n").length}:${text.slice(from, to)}`);

describe("definition", () => {
  it("of a name is its own line, by the label first", () => {
    const { analysis, offset, text } = behind("share = flow");
    const found = definitionAt(analysis, shop, offset);
    expect(found && textsAt(text, [found.origin, ...found.places.map((p) => p.range)])).toEqual([
      "15:flow",
      "14:flow",
    ]);
  });

  it("of an instrument is in the shop file", () => {
    const { analysis, offset } = behind("via F1");
    const range = shop.instruments.get("f1")?.range;
    expect(definitionAt(analysis, shop, offset)?.places).toEqual([{ file: "shop", range }]);
  });

  it("of a name that nothing defines, and of prose, is nowhere", () => {
    const { analysis, offset } = blockAt("readings", "a = 2 * nowhe$0re");
    expect(definitionAt(analysis, shop, offset)).toBeUndefined();
    expect(definitionAt(analysis, shop, 0)).toBeUndefined();
  });
});

describe("references and highlights", () => {
  it("are every mention, with or without the definition", () => {
    const { analysis, offset, text } = behind("speed [m/s] = flow");
    expect(textsAt(text, referencesAt(analysis, offset, true))).toEqual([
      "8:flow",
      "10:flow",
      "19:flow",
      "20:flow",
    ]);
    expect(textsAt(text, referencesAt(analysis, offset, false))).toEqual(["10:flow", "19:flow", "20:flow"]);
    expect(highlightsAt(analysis, offset).map(({ kind }) => kind)).toEqual([
      "written",
      "read",
      "read",
      "read",
    ]);
  });

  it("hold for places of the work, whatever their capitals", () => {
    const { analysis, offset, text } = behind("clean [Lower Seam");
    expect(textsAt(text, referencesAt(analysis, offset, true))).toEqual(["24:lower seam", "25:Lower Seam"]);
  });
});

describe("rename", () => {
  const renamed = (part: string, name: string): string => {
    const { analysis, offset, text } = behind(part);
    const renaming = rename(analysis, offset, name);
    return renaming.ok ? applied(text, renaming.edits) : renaming.says;
  };

  it("changes formulas and limits, and leaves another block's name alone", () => {
    expect(renamed("area: 2 cm2\nspeed [m/s] = flow", "vent  flow")).toBe(
      NOTE.replace("flow: 0.42", "vent flow: 0.42")
        .replace("= flow / area", "= vent flow / area")
        .replace("<= flow\n", "<= vent flow\n")
        .replace("\nflow <= 1", "\nvent flow <= 1"),
    );
  });

  it("keeps the label before a name, and takes the name with or without it", () => {
    const expected = NOTE.replace("flow: 0.21", "leak: 0.21")
      .replace("share = flow", "share = leak")
      .replace("retest flow <=", "retest leak <=");
    expect(renamed("retest flow", "leak")).toBe(expected);
    expect(renamed("share = flow", "retest leak")).toBe(expected);
  });

  it("leaves every value what it was", () => {
    const { analysis, offset, text } = behind("share = flow");
    const renaming = rename(analysis, offset, "leak");
    const after = analyze(readNote(applied(text, renaming.ok ? renaming.edits : []), readYaml), shop);
    const shown = (values: typeof after.values) => values.map((value) => value.shown);
    expect(shown(after.values)).toEqual(shown(analysis.values));
    expect(after.findings.map(({ rule }) => rule)).toEqual(analysis.findings.map(({ rule }) => rule));
  });

  it("refuses what would change a meaning, and what is no name", () => {
    expect(renamed("area", "flow")).toContain("already");
    // In the second block `speed` would come to mean that block's own.
    expect(renamed("share = flow", "speed")).toContain("line 15");
    for (const name of ["2 flow", "", "flow and area", "flow/2", "a = b"]) {
      expect(renamed("area", name)).toContain("starts with a letter");
    }
  });

  it("gives a place another name, but not one that is taken", () => {
    expect(renamed("clean [Lower Seam", "left seam")).toBe(
      NOTE.replace("[lower seam]", "[left seam]").replace("[Lower Seam]", "[left seam]"),
    );
    expect(renamed("clean [Lower Seam", "Upper seam")).toContain("already");
    expect(renamed("clean [Lower Seam", "a]b")).toContain("brackets");
  });

  it("is not offered for instruments and prose", () => {
    const { analysis, offset } = behind("via F1");
    expect(renameableAt(analysis, offset)).toBeUndefined();
    expect(renameableAt(analysis, 0)).toBeUndefined();
    expect(rename(analysis, offset, "F2").ok).toBe(false);
  });
});

describe("signature help", () => {
  const active = (line: string): string | undefined => {
    const { analysis, offset } = blockAt("readings", `flow: 1 L/min\n${line}`);
    const help = signatureHelp(analysis, shop, offset);
    const parameter = help?.parameters[help.active ?? -1];
    return help && (parameter ? help.label.slice(parameter.from, parameter.to) : "none");
  };

  it("names the parameter that is being typed, by place and by label", () => {
    expect(active("size = orifice size($0")).toBe("flow");
    expect(active("size = orifice size(flow, $0)")).toBe("drop");
    expect(active("size = orifice size(drop: 1 psi, flow: $0)")).toBe("flow");
    expect(active("size = orifice size(mean(1, 2), $0)")).toBe("drop");
  });

  it("is silent outside brackets, in comments, and for functions that there are not", () => {
    expect(active("size = orifice size$0")).toBeUndefined();
    expect(active("size = orifice size(flow) + $0")).toBeUndefined();
    expect(active("size = 1 # orifice size($0")).toBeUndefined();
    expect(active("size = nowhere($0")).toBeUndefined();
    expect(active("size: orifice size($0")).toBeUndefined();
  });
});
