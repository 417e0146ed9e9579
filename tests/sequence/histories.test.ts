// Whole jobs as they happen: tested again after a failure, at two places, with a new part, over night, handed
// over, with nothing found, come back. The expectations are written by hand from a technician's judgement (no
// source), not from what the checker says.
import { describe, expect, it } from "vitest";
import { findingsOf, type Job } from "./job.ts";

const LATE = { head: ["date: 2031-03-04"] };
const done = (procedure: string, outcome: string, steps: readonly string[], more: Partial<Job> = {}) =>
  findingsOf({ procedure, outcome, steps, ...LATE, ...more });
/** Of a job still open, without the information on what is still missing. */
const open = (procedure: string, steps: readonly string[]) =>
  findingsOf({ procedure, steps, status: "open", ...LATE }).filter((one) => !one.startsWith("info"));
const INCOMPLETE = ["error sequence/incomplete: outcome"];

describe("intake", () => {
  const start = ["09:00  stop engine", "09:05  block inlet", "09:10  pressurize: smoke, 0.5 psi"];
  const once = [
    ...start,
    "09:20  locate [elbow]: found",
    "09:30  relieve pressure",
    "09:40  repair [elbow]",
    "09:50  pressurize: smoke, 0.5 psi",
  ];
  const end = ["11:00  relieve pressure", "11:05  unblock inlet", "11:10  function check: pass"];
  const again = [
    "10:05  relieve pressure",
    "10:10  replace [elbow]: new one",
    "10:30  pressurize: smoke, 0.5 psi",
  ];

  it("retest failed, and done again with a new part", () => {
    const failed = [...once, "10:00  retest [elbow]: fail"];
    expect(
      done("intake-leak", "replaced", [...failed, ...again, "10:40  retest [elbow]: pass", ...end]),
    ).toEqual([]);
    expect(done("intake-leak", "repaired", [...failed, ...end])).toEqual(INCOMPLETE);
    // A pass before the failure does not count any more.
    const passed = [...once, "09:55  retest [elbow]: pass", "10:00  retest [elbow]: fail"];
    expect(done("intake-leak", "repaired", [...passed, ...end])).toEqual(INCOMPLETE);
  });

  it("two places, and both of them tested", () => {
    const two = [
      ...start,
      "09:20  locate [elbow]: found",
      "09:25  locate [gasket]: found",
      "09:30  relieve pressure",
      "09:40  repair [elbow]",
      "09:45  replace [gasket]",
      "09:50  pressurize: smoke, 0.5 psi",
      "10:00  retest [elbow]: pass",
    ];
    expect(done("intake-leak", "repaired", [...two, "10:05  retest [gasket]: pass", ...end])).toEqual([]);
    expect(done("intake-leak", "repaired", [...two, ...end])).toEqual(INCOMPLETE);
  });

  it("sealed, and left overnight to cure", () => {
    const sealed = [...once.slice(0, 5), "09:40  seal [gasket]", "09:45  hand over: tech 3"];
    const rest = (day: readonly string[], at: string) => [
      "2031-03-04",
      ...sealed.map((line) => line.replace("[elbow]", "[gasket]")),
      ...day,
      `${at}  pressurize: smoke, 0.5 psi`,
      "10:50  retest [gasket]: pass",
      ...end,
    ];
    expect(done("intake-leak", "repaired", rest(["2031-03-05"], "10:30"))).toEqual([]);
    expect(done("intake-leak", "repaired", rest([], "10:30"))).toEqual([
      "error sequence/not-cured: pressurize",
      "error sequence/not-cured: retest [gasket]",
      "error sequence/not-cured: function check",
    ]);
  });

  it("handed over under pressure", () => {
    expect(open("intake-leak", [...start, "09:15  hand over: tech 3"])).toEqual([
      "error sequence/needs: hand over",
    ]);
  });

  it("a comeback is a job of its own", () => {
    const steps = [...once, "10:00  retest [elbow]: pass", ...end];
    const head = [...LATE.head, "comeback of: 2031-0012"];
    expect(done("intake-leak", "repaired", steps, { head })).toEqual([]);
  });
});

describe("exhaust", () => {
  const start = [
    "08:00  stop engine",
    "08:10  confirm cold: stood overnight",
    "08:20  block outlet",
    "08:30  pressurize: smoke, 0.5 psi",
  ];
  const end = ["11:00  relieve pressure", "11:05  unblock outlet", "11:10  function check: pass, outdoors"];

  it("no fault found", () => {
    expect(done("exhaust-leak", "no fault found", [...start, "08:40  locate: none", ...end])).toEqual([]);
    // Nothing was looked for.
    expect(done("exhaust-leak", "no fault found", [...start, ...end])).toEqual(INCOMPLETE);
  });

  it("welded, and tested before it has cooled", () => {
    const welded = [...start, "08:40  locate [pipe]: found", "08:50  relieve pressure", "09:00  weld [pipe]"];
    const test = ["10:30  pressurize: smoke, 0.5 psi", "10:40  retest [pipe]: pass", ...end];
    expect(done("exhaust-leak", "repaired", [...welded, ...test])).toEqual([
      "error sequence/needs: pressurize",
    ]);
    const cooled = [...welded, "10:20  confirm cold: 31 degC", ...test];
    expect(done("exhaust-leak", "repaired", cooled)).toEqual([]);
    // Half an hour and no temperature shows nothing.
    const guessed = [...welded, "10:20  confirm cold: 30 min", ...test];
    expect(done("exhaust-leak", "repaired", guessed)).toEqual(["warning sequence/no-outcome: confirm cold"]);
    // A temperature that is too high is worse than none.
    const hot = [...welded, "10:20  confirm cold: 90 degC", ...test];
    expect(done("exhaust-leak", "repaired", hot)).toEqual([
      "warning sequence/no-outcome: confirm cold",
      "error sequence/needs: pressurize",
    ]);
    expect(
      open("cooling-pressure", [
        "08:00  stop engine",
        "08:05  confirm cold: 90 degC",
        "08:10  open cap: slowly",
      ]),
    ).toEqual(["warning sequence/no-outcome: confirm cold", "error sequence/needs: open cap"]);
  });

  it("run in between, which warms it again", () => {
    const ran = [
      "08:00  stop engine",
      "08:10  confirm cold: 20 degC",
      "08:15  run engine: outdoors",
      "08:20  stop engine",
      "08:25  block outlet",
      "08:30  pressurize: smoke, 0.5 psi",
    ];
    expect(open("exhaust-leak", ran)).toEqual(["error sequence/needs: pressurize"]);
  });
});

describe("crankcase", () => {
  const start = ["09:00  stop engine", "09:05  block breather", "09:10  pressurize: smoke, 0.3 psi"];
  const end = ["11:00  relieve pressure", "11:05  unblock breather", "11:10  function check: pass"];

  it("no fault found, and declined", () => {
    expect(done("crankcase-leak", "no fault found", [...start, "09:20  locate: none", ...end])).toEqual([]);
    expect(done("crankcase-leak", "declined", [...start, "09:20  locate [seal]: found", ...end])).toEqual([]);
    expect(done("crankcase-leak", "declined", [...start, "09:20  locate [seal]: found"])).toEqual([
      "error sequence/left-behind: block breather",
      "error sequence/left-behind: pressurize",
    ]);
  });

  it("run without oil", () => {
    const dry = ["09:00  stop engine", "09:10  drain oil: 7 L", "09:40  run engine"];
    expect(open("crankcase-leak", dry)).toEqual(["error sequence/needs: run engine"]);
    expect(open("crankcase-leak", [...dry.slice(0, 2), "09:30  fill oil: 7 L", "09:40  run engine"])).toEqual(
      [],
    );
  });

  it("soaped after it was cleaned, and sealed", () => {
    const sealed = [
      ...start,
      "09:20  locate [cover]: found",
      "09:30  relieve pressure",
      "09:40  clean [cover]",
      "09:45  soap [cover]",
      "09:50  seal [cover]",
    ];
    expect(open("crankcase-leak", sealed)).toEqual(["error sequence/needs: seal [cover]"]);
  });
});

describe("module", () => {
  const LOW = { head: [...LATE.head, "subject: box, 12 V module"] };
  const found = [
    "08:00  isolate power",
    "08:05  block vents",
    "08:10  pressurize: smoke, 0.4 psi",
    "08:20  locate [seam]: found",
    "08:30  relieve pressure",
    "08:35  unblock vents",
  ];
  const test = ["13:00  block vents", "13:05  pressurize: smoke, 0.4 psi", "13:15  retest [seam]: pass"];
  const end = [
    "13:30  relieve pressure",
    "13:35  unblock vents",
    "13:40  refit",
    "13:45  restore power",
    "13:50  function check: pass",
  ];

  it("replaced instead of sealed", () => {
    const steps = [...found, "08:45  remove", "09:00  replace: new module", ...test, ...end];
    expect(done("module-enclosure-leak", "replaced", steps, LOW)).toEqual([]);
    // High voltage until somebody says otherwise.
    const unsaid = done("module-enclosure-leak", "replaced", steps);
    expect(unsaid).toEqual([
      "error sequence/needs: pressurize",
      "error sequence/needs: remove",
      "error sequence/needs: replace",
      "error sequence/needs: pressurize",
    ]);
  });

  it("no fault found, with the vents capped to the end", () => {
    const none = [...found.slice(0, 3), "08:20  locate: none", "13:30  relieve pressure"];
    const last = ["13:35  unblock vents", "13:45  restore power", "13:50  function check: pass"];
    expect(done("module-enclosure-leak", "no fault found", [...none, ...last], LOW)).toEqual([]);
    expect(done("module-enclosure-leak", "no fault found", [...none, ...last.slice(1)], LOW)).toEqual([
      "error sequence/left-behind: block vents",
    ]);
  });

  it("a new gasket on a dirty face", () => {
    const gasket = (lines: readonly string[]) =>
      done(
        "module-enclosure-leak",
        "repaired",
        [...found, "08:45  open", "08:50  dry: fan", "10:50  inspect: none", ...lines, ...test, ...end],
        LOW,
      );
    const renew = ["11:10  renew seal [seam]", "11:20  close"];
    expect(gasket(["11:00  clean [seam]", ...renew])).toEqual([]);
    expect(gasket(renew)).toEqual(["error sequence/needs: renew seal [seam]"]);
  });
});

describe("cabin", () => {
  const found = ["08:00  assess: found", "08:10  remove trim", "08:20  locate [drain]: found, water stands"];
  const end = ["15:00  refit trim", "15:10  function check: pass"];

  it("water again after the first mend, dried twice", () => {
    const first = [
      ...found,
      "08:40  clear drains [drain]",
      "09:00  dry: fan",
      "11:00  inspect: none",
      "11:10  water test [drain]: fail, runs in",
      "11:30  repair [drain]",
      "11:50  water test [drain]: pass, ten minutes",
    ];
    expect(done("cabin-water-leak", "repaired", [...first, ...end])).toEqual([
      ...INCOMPLETE,
      "error sequence/not-dry: refit trim",
    ]);
    const twice = [...first, "12:00  dry: fan", "14:00  inspect: none", ...end];
    expect(done("cabin-water-leak", "repaired", twice)).toEqual([]);
  });

  it("no fault found shows by a water test", () => {
    const steps = ["08:00  assess: none", "08:10  water test: pass, half an hour"];
    expect(done("cabin-water-leak", "no fault found", [...steps, "09:00  function check: pass"])).toEqual([]);
    const wet = [steps[0] ?? "", "08:10  water test: fail, drips", "09:00  function check: pass"];
    expect(done("cabin-water-leak", "no fault found", wet)).toEqual(INCOMPLETE);
  });
});

describe("two testers", () => {
  const LIMIT = { limits: ["test pressure <= 20 inH2O"] };
  const bench = ["09:00  inspect [A]: none", "09:05  zero gauges", "09:10  check bench: pass"];
  const measured = (hour: string) => [
    `${hour}:15  supply power: fused`,
    `${hour}:16  warm up [A]: 14 min`,
    `${hour}:35  connect [A]`,
    `${hour}:40  pressurize [A]`,
    `${hour}:45  measure pressure [A]: 12 inH2O`,
    `${hour}:50  relieve pressure`,
    `${hour}:52  disconnect [A]`,
    `${hour}:55  compare`,
    `${hour}:58  switch off`,
  ];

  it("measured again after a repair", () => {
    const repaired = [...bench, ...measured("09"), "10:00  repair [A]"];
    expect(done("tester-comparison", "repaired", repaired, LIMIT)).toEqual(INCOMPLETE);
    const again = [...repaired, "10:10  inspect [A]: none", ...measured("11")];
    expect(done("tester-comparison", "repaired", again, LIMIT)).toEqual([]);
  });

  it("on the next morning the gauges are zeroed and the bench is checked again", () => {
    const days = ["2031-03-04", ...bench, "2031-03-05"];
    expect(done("tester-comparison", "diagnosis only", [...days, ...measured("09")], LIMIT)).toEqual([
      "warning sequence/needs: measure pressure [A]",
      "warning sequence/needs: measure pressure [A]",
    ]);
    const fresh = [...days, "09:01  zero gauges", "09:05  check bench: pass", ...measured("09")];
    expect(done("tester-comparison", "diagnosis only", fresh, LIMIT)).toEqual([]);
  });
});

describe("any other job", () => {
  it("no fault found, diagnosis only, and a retest that failed", () => {
    expect(done("general", "no fault found", ["09:00  inspect: none"])).toEqual([]);
    expect(done("general", "no fault found", ["09:00  inspect: found, chafed"])).toEqual(INCOMPLETE);
    expect(done("general", "diagnosis only", ["09:00  inspect: found, chafed"])).toEqual([]);
    const mended = ["09:00  inspect [wire]: found, chafed", "09:20  repair [wire]"];
    expect(done("general", "repaired", [...mended, "09:40  retest [wire]: fail"])).toEqual(INCOMPLETE);
    expect(
      done("general", "repaired", [...mended, "09:40  retest [wire]: fail", "10:00  retest [wire]: pass"]),
    ).toEqual([]);
  });

  it("handed over under pressure, and the pressure off first", () => {
    const on = ["09:00  pressurize: air, 5 psi"];
    const limits = ["test pressure <= 10 psi   source: marking"];
    const errors = (steps: readonly string[]) =>
      findingsOf({ procedure: "general", steps, status: "open", limits, ...LATE }).filter((one) =>
        one.startsWith("error"),
      );
    expect(errors([...on, "09:30  hand over: tech 2"])).toEqual(["error sequence/needs: hand over"]);
    expect(errors([...on, "09:20  relieve pressure", "09:30  hand over: tech 2"])).toEqual([]);
  });
});
