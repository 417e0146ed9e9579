// A lamp's job, line by line. The expectations are written by hand from the table of the domain design
// (a technician's judgement, no source), not from what the checker says.
import { describe, expect, it } from "vitest";
import { findingsOf } from "./job.ts";
import { type Row, testMatrix } from "./matrix.ts";

const rows: readonly Row[] = [
  ["2031-03-04", []],
  // Nobody demands a first look for a repair.
  ["08:35  assess: droplets", []],
  [
    "08:45  isolate power: key off",
    // The second test was done with the power off, which puts the first one right.
    ["info sequence/needs: pressurize", "error sequence/needs: drain"],
  ],
  ["08:50  block vents: both capped", ["info sequence/needs: pressurize"]],
  [
    "09:10  pressurize: smoke, 0.8 psi",
    ["error sequence/needs: locate [lower seam]"],
    ["info sequence/needs: pressurize", "info sequence/needs: block vents"],
  ],
  [
    "09:25  locate [lower seam]: found, smoke comes out",
    ["error sequence/needs: seal [lower seam]"],
    ["error sequence/needs: locate [lower seam]"],
  ],
  [
    "09:32  relieve pressure",
    [
      "warning sequence/left-behind: pressurize",
      "info sequence/needs: unblock vents",
      "error sequence/needs: drain",
      "error sequence/needs: dry",
      "error sequence/needs: clean [lower seam]",
      "error sequence/needs: seal [lower seam]",
      "error sequence/needs: block vents",
    ],
    ["error sequence/needs: locate [lower seam]"],
  ],
  [
    "09:34  unblock vents",
    [
      "error sequence/needs: dry",
      "error sequence/needs: seal [lower seam]",
      "error sequence/needs: cure [lower seam]",
    ],
    ["info sequence/needs: unblock vents"],
  ],
  ["09:40  drain: half a cup", ["warning sequence/needs: dry"]],
  [
    "09:50  dry: fan, 2 h",
    [
      "error sequence/incomplete: outcome",
      "error sequence/not-dry: seal [lower seam]",
      "error sequence/not-dry: refit",
    ],
    ["warning sequence/needs: dry"],
  ],
  // A duration alone does not show that it is dry, and a look before drying does not either.
  ["12:10  inspect: none", ["warning sequence/no-outcome: dry"], ["warning sequence/no-outcome: dry"]],
  ["12:20  clean [lower seam]: alcohol wipe", ["error sequence/needs: seal [lower seam]"]],
  [
    "12:35  seal [lower seam]: silicone",
    ["error sequence/needs: cure [lower seam]"],
    ["error sequence/needs: seal [lower seam]"],
  ],
  // Time cures it whether or not a line says so.
  ["12:40  cure [lower seam]", [], ["error sequence/needs: cure [lower seam]"]],
  ["2031-03-05", []],
  [
    "13:05  isolate power: still off",
    ["error sequence/needs: pressurize"],
    ["error sequence/needs: pressurize"],
  ],
  [
    "13:10  block vents: both capped",
    ["error sequence/needs: pressurize", "error sequence/needs: retest [lower seam]"],
  ],
  [
    "13:20  pressurize: smoke, 0.8 psi",
    ["error sequence/needs: retest [lower seam]"],
    ["error sequence/needs: pressurize", "error sequence/needs: block vents"],
  ],
  [
    "13:35  retest [lower seam]: pass",
    ["error sequence/incomplete: outcome"],
    ["error sequence/needs: retest [lower seam]"],
  ],
  [
    "13:40  relieve pressure",
    ["error sequence/left-behind: pressurize", "error sequence/needs: unblock vents"],
    ["error sequence/needs: retest [lower seam]"],
  ],
  [
    "13:42  unblock vents",
    ["error sequence/left-behind: block vents", "error sequence/needs: refit"],
    ["error sequence/needs: unblock vents"],
  ],
  [
    "14:05  refit",
    ["error sequence/incomplete: outcome", "error sequence/needs: restore power"],
    ["error sequence/needs: refit"],
  ],
  [
    "14:15  restore power",
    ["error sequence/incomplete: outcome", "error sequence/needs: function check"],
    ["error sequence/needs: restore power"],
  ],
  [
    "14:20  function check: pass",
    ["error sequence/incomplete: outcome"],
    ["error sequence/needs: function check"],
  ],
];

testMatrix("a lamp sealed at one seam", { procedure: "lamp-moisture", rows });

const found = [
  "2031-03-04",
  "08:45  isolate power: key off",
  "08:50  block vents",
  "09:10  pressurize: smoke, 0.8 psi",
  "09:25  locate [lower seam]: found",
];
const open = ["09:32  relieve pressure", "09:34  unblock vents", "09:40  drain"];
const dried = ["09:50  dry: fan, 2 h", "12:10  inspect: none"];
const tested = (place: string, outcome: string, at = "13") => [
  `${at}:10  block vents`,
  `${at}:20  pressurize: smoke, 0.8 psi`,
  `${at}:35  retest${place}: ${outcome}`,
  `${at}:40  relieve pressure`,
  `${at}:42  unblock vents`,
];
const closed = ["18:05  refit", "18:15  restore power", "18:20  function check: pass"];
const lamp = (steps: readonly string[], more: { outcome?: string; status?: "open" | "done" } = {}) =>
  findingsOf({ procedure: "lamp-moisture", steps, ...more });

describe("histories of a lamp", () => {
  const sealed = ["12:20  clean [lower seam]", "12:35  seal [lower seam]: silicone"];

  it("retest failed, then located, sealed and tested again", () => {
    const again = [
      ...tested(" [lower seam]", "fail, smoke at the far end"),
      "14:00  clean [lower seam]",
      "14:10  seal [lower seam]: silicone, a longer bead",
      "2031-03-06",
      "15:00  isolate power: still off",
      ...tested(" [lower seam]", "pass", "16"),
      ...closed,
    ];
    const start = [...found, ...open, ...dried, ...sealed, "2031-03-05", "13:05  isolate power: still off"];
    expect(lamp([...start, ...again])).toEqual([]);
    // Without the second test the job ends on a failed one.
    const untested = again.filter(
      (line) => !/1[4-9]:\d\d {2}(?:retest|block|press|reliev|unblock)/.test(line),
    );
    expect(lamp([...start, ...untested])).toEqual(["error sequence/incomplete: outcome"]);
  });

  it("sealed again, and tested before the second bead has cured", () => {
    const steps = [
      ...[...found, ...open, ...dried, ...sealed, "2031-03-05", "13:05  isolate power: still off"],
      ...tested(" [lower seam]", "fail"),
      "14:00  clean [lower seam]",
      "14:10  seal [lower seam]: silicone",
      ...tested(" [lower seam]", "pass", "16"),
      ...closed,
    ];
    expect(lamp(steps)).toEqual([
      "error sequence/not-cured: pressurize",
      "error sequence/not-cured: retest [lower seam]",
      "error sequence/not-cured: refit",
    ]);
  });

  it("two places, both sealed; a test of the whole lamp covers both", () => {
    const both = [
      ...found,
      "09:28  locate [upper seam]: found",
      ...open,
      ...dried,
      ...sealed,
      "12:40  clean [upper seam]",
      "12:50  seal [upper seam]: silicone",
      "2031-03-05",
      "13:05  isolate power: still off",
    ];
    expect(lamp([...both, ...tested("", "pass"), ...closed])).toEqual([]);
    // Tested at one of them only, the other is not shown to be tight.
    expect(lamp([...both, ...tested(" [upper seam]", "pass"), ...closed])).toEqual([
      "error sequence/incomplete: outcome",
    ]);
  });

  it("two places found and one of them sealed: cleaning the one does not clean the other", () => {
    const steps = [
      ...found,
      "09:28  locate [upper seam]: found",
      ...open,
      ...dried,
      "12:20  clean [lower seam]",
      "12:35  seal [upper seam]: silicone",
      "2031-03-05",
      "13:05  isolate power: still off",
      ...tested(" [upper seam]", "pass"),
      ...closed,
    ];
    expect(lamp(steps)).toEqual([
      "error sequence/incomplete: outcome",
      "error sequence/needs: seal [upper seam]",
    ]);
  });

  it("a place that is left on purpose is not asked for", () => {
    const steps = [
      ...found,
      "09:28  locate [drain hole]: found",
      "09:30  leave [drain hole]: open by design",
      ...open,
      ...dried,
      ...sealed,
      "2031-03-05",
      "13:05  isolate power: still off",
      ...tested(" [lower seam]", "pass"),
      ...closed,
    ];
    expect(lamp(steps)).toEqual([]);
    const unsaid = steps.map((line) => line.replace(": open by design", ""));
    expect(lamp(unsaid)).toEqual([
      "error sequence/incomplete: outcome",
      "warning sequence/no-outcome: leave [drain hole]",
    ]);
  });

  it("replaced instead of sealed: a new lamp is dry and has nothing to cure", () => {
    const steps = [
      ...found,
      "09:32  relieve pressure",
      "09:34  unblock vents",
      "10:30  replace: new lamp",
      ...tested("", "pass"),
      ...closed.filter((line) => !line.includes("refit")),
    ];
    expect(lamp(steps, { outcome: "replaced" })).toEqual([]);
  });

  // A surfactant wets a membrane, which then neither breathes nor keeps water out: common practice, no source.
  it.each([
    ["soap [membrane vent]", ["error sequence/needs: soap [membrane vent]"]],
    ["soap: all round, over the membrane too", ["error sequence/needs: soap"]],
    ["soap [seam]: not the membrane", []],
    ["soap [seam]: membrane taped over", []],
    ["soap [seam]: plenty", []],
  ])("takes `%s` for soap on a membrane or not", (line, expected) => {
    const steps = ["08:40  assess: droplets", `08:45  ${line}`, "08:50  soap [seam]"];
    const own = findingsOf({
      procedure: "lamp-moisture",
      status: "open",
      steps,
      head: ["date: 2031-03-04"],
    });
    expect(own.filter((one) => one.includes("needs"))).toEqual(expected);
  });

  it("soap after drying undoes dry and clean", () => {
    const steps = [
      ...[...found, ...open, ...dried, "12:20  clean [lower seam]", "12:25  soap"],
      "12:35  seal [lower seam]: silicone",
      "2031-03-05",
      "13:05  isolate power: still off",
      ...tested(" [lower seam]", "pass"),
      ...closed,
    ];
    expect(lamp(steps)).toEqual([
      "error sequence/incomplete: outcome",
      "error sequence/needs: seal [lower seam]",
      "error sequence/not-dry: seal [lower seam]",
      "error sequence/not-dry: refit",
    ]);
  });

  it("no fault found: fog that clears by itself", () => {
    expect(
      lamp(["08:40  assess: fog", "08:55  function check: pass"], { outcome: "no fault found" }),
    ).toEqual([]);
    expect(
      lamp(["08:40  assess: droplets", "08:55  function check: pass"], { outcome: "no fault found" }),
    ).toEqual(["error sequence/incomplete: outcome"]);
  });

  it("declined at the door, and declined with the vents still capped", () => {
    expect(lamp(["08:40  assess: droplets"], { outcome: "declined" })).toEqual([]);
    expect(lamp([...found, "09:32  relieve pressure"], { outcome: "declined" })).toEqual([
      "error sequence/incomplete: outcome",
      "error sequence/left-behind: block vents",
    ]);
  });

  it("diagnosis only: the leak is known, and everything is back as it was", () => {
    const steps = [...found, "09:32  relieve pressure", "09:34  unblock vents", "09:40  restore power"];
    expect(lamp(steps, { outcome: "diagnosis only" })).toEqual([]);
  });

  it("handed over with the pressure off, and with the pressure on", () => {
    expect(
      lamp([...found, "09:32  relieve pressure", "09:40  hand over: to tech 2"], { status: "open" }),
    ).toEqual(["info sequence/incomplete: status"]);
    expect(lamp([...found, "09:40  hand over: to tech 2"], { status: "open" })).toEqual([
      "info sequence/incomplete: status",
      "error sequence/needs: hand over",
    ]);
    const relieved = [...found, "09:40  hand over: to tech 2", "09:45  relieve pressure"];
    expect(lamp(relieved, { status: "open" })).toEqual([
      "info sequence/incomplete: status",
      "info sequence/needs: hand over",
    ]);
  });

  it("a comeback is a job of its own and starts from the beginning", () => {
    const head = ["comeback of: 2031-0012"];
    const steps = ["08:40  assess: droplets", "09:00  seal [lower seam]: silicone"];
    const found = findingsOf({ procedure: "lamp-moisture", steps, head, status: "open" });
    expect(found).toEqual([
      "info sequence/incomplete: status",
      "error sequence/needs: seal [lower seam]",
      "error sequence/needs: seal [lower seam]",
      "error sequence/not-dry: seal [lower seam]",
    ]);
  });

  it("a night shift over midnight is no night", () => {
    const steps = [
      "2031-03-04",
      "23:40  isolate power: key off",
      "23:50  block vents",
      "2031-03-05",
      "00:10  pressurize: smoke, 0.8 psi",
    ];
    expect(lamp(steps, { status: "open" })).toEqual(["info sequence/incomplete: status"]);
  });
});
