// Pressures and media in steps and readings, with the precedence of limits. Expectations are written by hand
// from the domain design; its figures are common practice without a source unless it says otherwise.
import { describe, expect, it } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";
import { analysed, findingsOf, type Job, noteOf } from "./job.ts";

const lamp = (more: Partial<Job> & { pressure?: string }) => {
  const { pressure, ...rest } = more;
  return {
    procedure: "lamp-moisture",
    status: "open" as const,
    head: ["date: 2031-03-04"],
    steps: [
      "08:50  isolate power",
      "08:55  block vents",
      `09:10  pressurize: smoke${pressure ? `, ${pressure}` : ""}`,
    ],
    ...rest,
  };
};
const over = (job: Job) => analysed(job).filter((finding) => finding.rule === "pressure/over-limit");
const verdicts = (job: Job) => over(job).map(({ severity, message }) => `${severity}: ${message}`);

describe("a test pressure", () => {
  it("is warned about above the lower figure and an error above the upper one", () => {
    expect(over(lamp({ pressure: "1.0 psi" }))).toEqual([]);
    expect(verdicts(lamp({ pressure: "1.2 psi" }))).toEqual([
      "warning: 1.2 psi is above the usual limit for lamp housing, 1 psi.",
    ]);
    expect(verdicts(lamp({ pressure: "15 kPa" }))).toEqual([
      "error: 15 kPa is above the usual limit for lamp housing, 2 psi (13.8 kPa).",
    ]);
  });

  it("counts as the highest of several in a remark", () => {
    expect(verdicts(lamp({ pressure: "0.5 psi, for a moment 2.5 psi" }))).toEqual([
      "error: 2.5 psi is above the usual limit for lamp housing, 2 psi.",
    ]);
  });

  it("is not guessed at where it is written with a comma, and read whole as a fraction or a range", () => {
    const commas = (pressure: string) =>
      analyzeText(noteOf(lamp({ pressure }))).findings.flatMap(({ rule, message }) =>
        rule === "unit/decimal-comma" || rule === "pressure/over-limit" ? message : [],
      );
    expect(commas("0,5 psi")).toEqual(["`0,5` is written with a comma."]);
    expect(commas("at 5,7 and 9,1 there are bubbles")).toEqual([]);
    expect(verdicts(lamp({ pressure: "1/2 psi" }))).toEqual([]);
    expect(verdicts(lamp({ pressure: "0.5-2.5 psi" }))).toHaveLength(1);
    expect(verdicts(lamp({ pressure: ".5 bar" }))).toHaveLength(1);
  });

  it("says the force on the part where its area is known, in newtons and as a weight", () => {
    // 2.5 psi = 17.24 kPa; on 310 cm2 that is 534 N, and 534 N / 9.80665 m/s2 = 54.5 kg.
    const [finding] = over(lamp({ pressure: "2.5 psi", readings: ["lens area: 310 cm2"] }));
    expect(finding?.message).toContain("On `lens area` that is 530 N, the weight of 54 kg.");
  });

  it("goes by the note's own limit first", () => {
    const limits = ["test pressure <= 0.7 psi   source: service information for this lamp"];
    expect(verdicts(lamp({ pressure: "0.9 psi", limits }))).toEqual([
      "error: 0.9 psi is above the limit of this note, 0.7 psi.",
    ]);
  });

  it("goes by a higher limit of the note only with its source, and then says so", () => {
    const raised = (source: string) =>
      lamp({ pressure: "2.5 psi", limits: [`test pressure <= 3 psi${source}`] });
    expect(verdicts(raised("   source: service information for this lamp"))).toEqual([
      "info: 3 psi is above the usual limit for lamp housing, 1 psi; it counts, because it names its source.",
    ]);
    expect(verdicts(raised(""))).toEqual([
      "warning: 3 psi is above the usual limit for lamp housing, 1 psi, and names no source; so the usual one stays in force.",
      "error: 2.5 psi is above the usual limit for lamp housing, 2 psi.",
    ]);
  });

  it("goes by the shop's limit before the built-in one", () => {
    const shop =
      "limits:\n  - reading: test pressure\n    procedure: lamp-moisture\n    error above: 0.6 psi\n    source: habit of this shop\n";
    expect(verdicts(lamp({ pressure: "0.8 psi", shop }))).toEqual([
      "error: 0.8 psi is above the shop's limit for lamp housing, 0.6 psi.",
    ]);
  });

  it("of a fuel-vapour system cannot be raised by any source", () => {
    const job = {
      procedure: "evap-leak",
      status: "open" as const,
      steps: [],
      readings: ["test pressure: 16 inH2O", "medium: nitrogen"],
      limits: ["test pressure <= 20 inH2O   source: service information for this van"],
    };
    expect(verdicts(job)).toEqual([
      "error: 16 inH2O is above the usual limit for fuel-vapour system, 14.5 inH2O.",
      "error: 20 inH2O is above the usual limit for fuel-vapour system, 14 inH2O, which a note cannot raise.",
    ]);
  });

  it("that is absolute is compared by how far it is above ambient", () => {
    const readings = ["ambient pressure: 100 kPa(a)", "test pressure: 110 kPa(a)"];
    // 10 kPa above ambient; one psi is 6.895 kPa.
    expect(verdicts(lamp({ steps: [], readings }))).toEqual([
      expect.stringMatching(
        /^warning: 10 kPa(?:\(g\))? is above the usual limit for lamp housing, 1 psi \(6\.89 kPa/,
      ),
    ]);
  });

  it("of a blown-out housing with its vents shut counts as pressurizing", () => {
    const steps = ["08:50  isolate power", "08:55  block vents", "09:10  blow out: 20 psi"];
    expect(findingsOf(lamp({ steps }))).toEqual([
      "info sequence/incomplete: status",
      "error pressure/over-limit: blow out",
    ]);
    // With the vents open it is cleaning, and below 30 psi.
    expect(findingsOf(lamp({ steps: ["08:50  isolate power", "09:10  blow out: 20 psi"] }))).toEqual([
      "info sequence/incomplete: status",
    ]);
  });
});

describe("cleaning air", () => {
  // 29 CFR 1910.242(b): compressed air shall not be used for cleaning except where reduced to less than 30 p.s.i.
  it.each([
    ["29.9 psi", []],
    ["30 psi", ["error pressure/cleaning-air: blow out [plug]"]],
    ["6 bar", ["error pressure/cleaning-air: blow out [plug]"]],
  ])("at %s", (pressure, expected) => {
    const steps = [`09:10  blow out [plug]: ${pressure}`];
    const found = findingsOf({ procedure: "general", status: "open", head: ["date: 2031-03-04"], steps });
    expect(found.filter((one) => one.includes("pressure/"))).toEqual(expected);
  });
});

describe("the medium", () => {
  const evap = (remark: string, readings: readonly string[] = []) =>
    findingsOf({
      procedure: "evap-leak",
      status: "open",
      head: ["date: 2031-03-04"],
      readings: ["fuel level: 40 %", "test pressure: 13 inH2O", ...readings],
      steps: [
        "08:30  make safe: doors open, engine cold",
        "08:45  inspect: none",
        "08:55  connect: nitrogen",
        "09:00  close vent",
        `09:10  pressurize: ${remark}`,
      ],
    }).filter((one) => !one.startsWith("info"));

  it("of a fuel-vapour system is inert", () => {
    expect(evap("nitrogen, 13 inH2O")).toEqual([]);
    expect(evap("CO2, 13 inH2O")).toEqual([]);
    expect(evap("shop air, 13 inH2O")).toEqual(["error pressure/medium: pressurize"]);
    expect(evap("air and nitrogen")).toEqual(["error pressure/medium: pressurize"]);
    expect(evap("nitrogen, no air")).toEqual([]);
    expect(evap("13 inH2O", ["medium: helium"])).toEqual(["error pressure/medium: medium"]);
  });

  it("of anything else is not a gas that burns or feeds a fire", () => {
    const lampMedium = (medium: string) =>
      findingsOf(lamp({ readings: [`medium: ${medium}`] })).filter((one) => one.includes("medium"));
    expect(lampMedium("smoke")).toEqual([]);
    expect(lampMedium("oxygen")).toEqual(["error pressure/medium: medium"]);
    const named = analysed(lamp({ steps: ["09:10  pressurize: smoke and hydrogen, 0.4 psi"] }));
    expect(named.find(({ rule }) => rule === "pressure/medium")?.message).toBe(
      "`pressurize` at 09:10 names `hydrogen`, which may not be used here.",
    );
  });
});
