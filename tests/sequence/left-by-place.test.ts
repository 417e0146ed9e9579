// What `leave` leaves where it names the place alone. A technician's judgement, no source.
import { describe, expect, it } from "vitest";
import { findingsOf } from "./job.ts";

const left = (...steps: readonly string[]) =>
  findingsOf({
    procedure: "lamp-moisture",
    outcome: "declined",
    head: ["date: 2031-03-04"],
    steps: ["08:40  assess: droplets", "08:55  block vents: 2 of 2", ...steps],
  }).filter((one) => one.includes("left-behind"));

describe("`leave` with a place", () => {
  it.each([
    "leave: vents blocked, the customer drives through dust",
    "leave [vents]: the customer drives through dust",
    "leave [vent]: the customer drives through dust",
    "leave [the vents]: the customer drives through dust",
  ])("%s names the vents that stay blocked", (step) => {
    expect(left(`09:00  ${step}`)).toEqual(["info sequence/left-behind: block vents"]);
  });

  it.each([
    "leave [vents]: open by design",
    "leave [bumper]: the customer drives through dust",
    "leave [vents]",
  ])("%s leaves no vent blocked", (step) => {
    expect(left(`09:00  ${step}`)).toEqual(["error sequence/left-behind: block vents"]);
  });
});
