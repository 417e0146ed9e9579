import { expect, it } from "vitest";
import { analysed, type Job } from "./job.ts";

const messages = (job: Job) => analysed({ head: ["date: 2031-03-04"], ...job }).map((one) => one.message);

it("a place is named as the technician wrote it, not in lower case", () => {
  const cold = messages({
    procedure: "tester-comparison",
    outcome: "diagnosis only",
    limits: ["test pressure <= 20 inH2O"],
    steps: [
      "09:00  inspect [Tester A]: none",
      "09:02  inspect [Tester B]: none",
      "09:05  zero gauges",
      "09:10  check bench: pass",
      "09:15  supply power: fused",
      "09:16  warm up [Tester A]: 14 min",
      "09:35  connect [Tester B]",
      "09:40  pressurize [Tester B]",
      "09:45  measure pressure [Tester B]: 12 inH2O",
      "10:05  relieve pressure",
      "10:10  disconnect [Tester B]",
      "10:15  compare",
      "10:20  switch off",
    ],
  });
  expect(cold).toEqual([expect.stringContaining("which holds at [Tester A] only")]);
});

it("so is the place of something that is missing at the end", () => {
  const untested = messages({
    procedure: "intake-leak",
    steps: [
      "09:00  stop engine",
      "09:10  locate [Left Elbow]: found, split",
      "09:20  repair [left elbow]",
      "09:30  function check: pass",
    ],
  });
  expect(untested).toEqual([expect.stringContaining("at [Left Elbow]")]);
});
