import { describe, expect, it } from "vitest";
import type { Completion } from "../../server/src/ide/completion/place.ts";
import { complete } from "../../server/src/ide/completion.ts";
import { type At, blockAt, FRONT_MATTER, noteAt, shop } from "./note-at.ts";

const at = ({ analysis, offset }: At): Completion[] => complete(analysis, shop, offset);
const labels = (place: At): string[] => at(place).map((completion) => completion.label);

/** The note's text after a completion was taken. */
function taken(place: At, label: string): string {
  const completion = at(place).find((c) => c.label === label);
  if (!completion) throw new Error(`${label} is not offered, only ${labels(place).slice(0, 20).join(" | ")}`);
  const { from, to } = completion.replaces;
  return place.text.slice(0, from) + completion.text + place.text.slice(to);
}

describe("completion in readings", () => {
  it("offers the readings that the procedure expects and that are not there yet", () => {
    const offered = labels(blockAt("readings", "lens area: 310 cm2\n$0"));
    expect(offered[0]).toBe("test pressure");
    expect(offered).toContain("flow");
    expect(offered).not.toContain("lens area");
  });

  it("does not count the line being typed as being there", () => {
    expect(taken(blockAt("readings", "test pre$0"), "test pressure")).toContain("\ntest pressure: \n");
  });

  it("offers units after a number, those of the expected reading first", () => {
    const offered = labels(blockAt("readings", "test pressure: 0.80 $0"));
    expect(offered.slice(0, 3)).toContain("psi");
    expect(offered).toContain("degC");
    expect(offered.indexOf("kPa")).toBeLessThan(offered.indexOf("degC"));
  });

  it("replaces the part of a unit that is typed", () => {
    expect(taken(blockAt("readings", "test pressure: 0.80 kP$0"), "kPa")).toContain(
      "test pressure: 0.80 kPa\n",
    );
  });

  it("offers only fitting units for the display unit of a value that is known", () => {
    const offered = labels(blockAt("readings", "a: 2 mm\nb: 3 mm\narea [$0] = a * b"));
    expect(offered).toContain("cm2");
    expect(offered).not.toContain("psi");
  });

  it("offers the shop's instruments after via", () => {
    expect(labels(blockAt("readings", "test pressure: 0.80 psi via $0"))).toEqual(["P1", "F1"]);
    expect(taken(blockAt("readings", "test pressure: 0.80 psi via P$0"), "P1")).toContain(
      "0.80 psi via P1\n",
    );
  });

  it("offers what may follow a finished value", () => {
    expect(labels(blockAt("readings", "test pressure: 0.80 psi $0"))).toEqual(["via", "at", "±"]);
  });

  it("offers per cent among the units of a tolerance", () => {
    expect(labels(blockAt("readings", "flow: 0.42 L/min ± 3 $0")).slice(0, 9)).toContain("%");
  });

  it("stays silent in text, times and comments", () => {
    expect(labels(blockAt("readings", "medium: smo$0"))).toEqual([]);
    expect(labels(blockAt("readings", "flow: 1 L/min at 09:$0"))).toEqual([]);
    expect(labels(blockAt("readings", "flow: 1 L/min # the $0"))).toEqual([]);
  });
});

describe("completion in formulas", () => {
  const three = "test pressure: 0.80 psi\nlens area: 310 cm2\nflow: 0.42 L/min\n";

  it("offers names of the note, then functions with their signature", () => {
    const offered = at(blockAt("readings", `${three}force = $0`));
    expect(offered.slice(0, 3).map((c) => c.label)).toEqual(["test pressure", "lens area", "flow"]);
    const size = offered.find((c) => c.label === "orifice size");
    expect(size?.detail).toMatch(/^orifice size\(flow, drop, \[upstream\]/);
    expect(size?.text).toBe("orifice size(");
  });

  it("takes a name of several words as one", () => {
    expect(taken(blockAt("readings", `${three}force = lens area * test pr$0`), "test pressure")).toContain(
      "force = lens area * test pressure\n",
    );
  });

  it("never offers the name that the line defines", () => {
    expect(labels(blockAt("readings", `${three}force: 1 N\nforce 2 = $0`))).not.toContain("force 2");
  });

  it("offers arguments by label, and values of the right dimension first", () => {
    const offered = labels(blockAt("readings", `${three}size = orifice size(flow, $0`));
    expect(offered[0]).toBe("test pressure");
    expect(offered).toContain("drop:");
    expect(offered).toContain("gas:");
    expect(offered).not.toContain("flow:");
  });

  it("offers the words of an argument that is a choice", () => {
    expect(labels(blockAt("readings", `${three}size = orifice size(flow, test pressure, gas: $0`))).toContain(
      "nitrogen",
    );
  });

  it("offers units that fit the argument, and the value compared with", () => {
    const inCall = labels(blockAt("readings", `${three}size = orifice size(0.4 $0`));
    expect(inCall[0]).toMatch(/L\/min|cm3\/min/);
    const compared = labels(blockAt("limits", "flow <= 1 $0\n```\n\n```readings\nflow: 0.42 L/min"));
    expect(compared[0]).toMatch(/L\/min|cm3\/min/);
  });

  it("stays silent inside quotes and behind a finished value", () => {
    expect(labels(blockAt("readings", `${three}ok = medium is "smo$0`))).toEqual([]);
    expect(labels(blockAt("readings", `${three}force = 2 N $0`))).toEqual([]);
  });
});

describe("completion elsewhere", () => {
  it("offers the clauses of a limit behind the comparison", () => {
    expect(labels(blockAt("limits", "flow <= 1 L/min $0"))).toEqual(["source:", "(acceptance)"]);
    expect(labels(blockAt("limits", "flow <= 1 L/min source: our $0"))).toEqual([]);
  });

  it("offers units for a series' columns", () => {
    expect(labels(blockAt("series decay", "t [s], p [in$0"))).toContain("inH2O");
  });

  it("offers the procedure's steps, outcomes, places and units", () => {
    const steps = labels(blockAt("steps", "08:40  $0"));
    expect(steps[0]).toBe("assess");
    expect(steps).toContain("block vents");
    expect(steps).toContain("smoke test");
    // What may be done next comes first: nothing is pressurized before the vents are blocked.
    const later = labels(
      blockAt("steps", "08:40  assess: droplets\n08:50  isolate power: key off\n08:55  $0"),
    );
    expect(later.indexOf("block vents")).toBeLessThan(later.indexOf("assess"));
    expect(later.indexOf("assess")).toBeLessThan(later.indexOf("pressurize"));
    expect(labels(blockAt("steps", "08:40  assess: $0"))).toEqual(["droplets", "fog", "none"]);
    expect(labels(blockAt("steps", "09:25  locate [lower seam]: found\n09:40  clean [$0"))).toEqual([
      "lower seam",
    ]);
    expect(labels(blockAt("steps", "09:10  pressurize: smoke, 0.8 $0")).slice(0, 3)).toContain("psi");
    expect(labels(blockAt("steps", "$0"))).toEqual(["--:--"]);
  });

  it("takes an everyday word for a step", () => {
    expect(taken(blockAt("steps", "08:40  cap v$0"), "cap vents")).toContain("08:40  cap vents\n");
  });

  it("offers front-matter keys that are not there, and the values of those that have a list", () => {
    const keys = labels(noteAt("---\njob: 2031-0001\n$0\n---\n\n```readings\n```\n"));
    expect(keys).toContain("procedure");
    expect(keys).not.toContain("job");
    const ids = labels(noteAt("---\njob: 2031-0001\nprocedure: $0\n---\n"));
    expect(ids).toContain("lamp-moisture");
    expect(ids).toContain("general");
    expect(labels(noteAt("---\njob: 2031-0001\nstatus: $0\n---\n"))).toEqual(["open", "done"]);
  });

  it("offers the info words of a fence that opens, not of one that closes", () => {
    expect(labels(noteAt(`${FRONT_MATTER}\`\`\`$0\n`))).toEqual(["readings", "series", "limits", "steps"]);
    expect(labels(noteAt(`${FRONT_MATTER}- item\n\n  ~~~re$0\n`))).toEqual([
      "readings",
      "series",
      "limits",
      "steps",
    ]);
    expect(labels(noteAt(`${FRONT_MATTER}\`\`\`readings\nflow: 1 L/min\n\`\`\`$0\n`))).toEqual([]);
    expect(labels(noteAt(`${FRONT_MATTER}\`\`\`js\nlet a\n\`\`\`$0\n`))).toEqual([]);
  });

  it("stays silent in prose", () => {
    expect(labels(noteAt(`${FRONT_MATTER}The lens is 0.8 $0 thick.`))).toEqual([]);
  });
});
