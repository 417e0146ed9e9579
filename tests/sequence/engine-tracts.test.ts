// Jobs on intake, exhaust and crankcase, line by line. The expectations are written by hand from a technician's
// judgement of what each step needs and undoes (no source), not from what the checker says.
import { testMatrix } from "./matrix.ts";

const LATE = { head: ["date: 2031-03-04"] };
const needs = (step: string) => `error sequence/needs: ${step}`;
const left = (step: string) => `error sequence/left-behind: ${step}`;
/** Done too early, and done again in order later on. */
const putRight = (step: string) => `info sequence/needs: ${step}`;
const INCOMPLETE = "error sequence/incomplete: outcome";

testMatrix("an intake with a new elbow", {
  procedure: "intake-leak",
  outcome: "replaced",
  ...LATE,
  rows: [
    ["09:00  assess: found, idle hunts", []],
    [
      "09:05  stop engine: key off",
      [needs("block inlet"), needs("pressurize"), needs("replace [elbow]"), needs("pressurize")],
    ],
    ["09:10  block inlet", [needs("pressurize"), needs("pressurize")], [needs("block inlet")]],
    [
      "09:15  pressurize: smoke, 0.5 psi",
      [needs("locate [elbow]")],
      // The second one was done with the inlet shut; the plug went in against pressure all the same.
      [putRight("pressurize"), needs("block inlet")],
    ],
    ["09:25  locate [elbow]: found, smoke", [needs("replace [elbow]")], [needs("locate [elbow]")]],
    ["09:35  relieve pressure", [needs("replace [elbow]")], [needs("locate [elbow]")]],
    ["09:45  replace [elbow]: new one", [needs("retest [elbow]")], [needs("replace [elbow]")]],
    ["10:15  pressurize: smoke, 0.5 psi", [needs("retest [elbow]")], [needs("replace [elbow]")]],
    ["10:25  retest [elbow]: pass", [INCOMPLETE], [needs("retest [elbow]")]],
    [
      "10:35  relieve pressure",
      [left("pressurize"), needs("unblock inlet"), needs("function check")],
      [needs("retest [elbow]")],
    ],
    ["10:40  unblock inlet", [left("block inlet"), needs("function check")], [needs("unblock inlet")]],
    ["10:50  function check: pass", [INCOMPLETE], [needs("function check")]],
  ],
});

testMatrix("an exhaust joint sealed with paste", {
  procedure: "exhaust-leak",
  rows: [
    ["2031-03-04", []],
    ["08:20  assess: found, ticks", []],
    // The morning's `confirm cold: stood overnight` says that the engine was off, and puts right what it can.
    [
      "08:30  stop engine: key off",
      [putRight("confirm cold"), needs("block outlet"), putRight("pressurize")],
    ],
    [
      "08:40  confirm cold: 23 degC",
      [putRight("pressurize"), needs("seal [joint]")],
      [putRight("confirm cold")],
    ],
    ["08:45  block outlet", [needs("pressurize"), needs("pressurize")]],
    [
      "09:10  pressurize: smoke, 0.4 psi",
      [needs("locate [joint]")],
      [putRight("pressurize"), needs("block outlet")],
    ],
    ["09:20  locate [joint]: found, smoke", [needs("seal [joint]")], [needs("locate [joint]")]],
    // Not let off, it stands over the night.
    [
      "09:35  relieve pressure",
      ["warning sequence/left-behind: pressurize", needs("seal [joint]")],
      [needs("locate [joint]")],
    ],
    ["09:45  seal [joint]: paste", [needs("cure [joint]"), needs("retest [joint]")], [needs("seal [joint]")]],
    // Time sets it whether or not a line says so.
    ["10:00  cure [joint]", [], [needs("cure [joint]")]],
    ["2031-03-05", []],
    // Found cold in the evening, nobody knows in the morning who ran it since.
    ["10:40  confirm cold: stood overnight", [needs("pressurize")], [needs("pressurize")]],
    ["10:50  pressurize: smoke, 0.4 psi", [needs("retest [joint]")], [needs("pressurize")]],
    ["11:00  retest [joint]: pass", [INCOMPLETE], [needs("retest [joint]")]],
    [
      "11:10  relieve pressure",
      [left("pressurize"), needs("unblock outlet"), needs("function check")],
      [needs("retest [joint]")],
    ],
    ["11:12  unblock outlet", [left("block outlet"), needs("function check")], [needs("unblock outlet")]],
    ["11:30  function check: pass, outdoors", [INCOMPLETE], [needs("function check")]],
  ],
});

testMatrix("a sump with a new gasket", {
  procedure: "crankcase-leak",
  outcome: "replaced",
  ...LATE,
  rows: [
    ["08:30  assess: found, oil film", []],
    [
      "08:35  stop engine: key off",
      [
        needs("block breather"),
        needs("pressurize"),
        needs("drain oil"),
        needs("replace [sump]"),
        needs("pressurize"),
      ],
    ],
    ["08:40  block breather", [needs("pressurize"), needs("pressurize")], [needs("block breather")]],
    [
      "08:50  pressurize: smoke, 0.3 psi",
      [needs("locate [sump]")],
      [putRight("pressurize"), needs("block breather")],
    ],
    ["09:05  locate [sump]: found, smoke", [needs("replace [sump]")], [needs("locate [sump]")]],
    [
      "09:15  relieve pressure",
      [needs("drain oil"), needs("clean [sump]"), needs("replace [sump]")],
      [needs("locate [sump]")],
    ],
    // Nobody demands that the oil is out for every gasket, nor a clean face for a dry one.
    ["09:20  drain oil: 7 L", [], [needs("drain oil")]],
    ["09:50  clean [sump]: degreased", []],
    ["10:10  replace [sump]: gasket", [needs("retest [sump]")]],
    ["10:50  fill oil: 7 L", [left("drain oil"), needs("function check")]],
    ["11:00  pressurize: smoke, 0.3 psi", [needs("retest [sump]")]],
    ["11:15  retest [sump]: pass", [INCOMPLETE], [needs("retest [sump]")]],
    [
      "11:20  relieve pressure",
      [left("pressurize"), needs("unblock breather"), needs("function check")],
      [needs("retest [sump]")],
    ],
    [
      "11:22  unblock breather",
      [left("block breather"), needs("function check")],
      [needs("unblock breather")],
    ],
    ["11:30  function check: pass", [INCOMPLETE], [needs("function check")]],
  ],
});
