import { checkVin, type VinCheck } from "../note/vin.ts";
import type { Report, Rule, RulePage } from "./rule.ts";

export const rule: Rule = {
  id: "note/vin-check-digit",
  severity: "warning",
  why: "One wrong character in the number is another vehicle: its history, its parts and its service information.",
  *check({ note }): Iterable<Report> {
    const { vehicle } = note.frontMatter.fields;
    const range = note.frontMatter.at.get("vehicle.vin");
    if (!range || vehicle?.vin === undefined) return;
    const check = checkVin(vehicle.vin);
    if (check.kind === "right" || check.kind === "not checked") return;
    yield { range, ...words(check) };
  },
};

function words(
  check: Extract<VinCheck, { kind: "wrong character" | "wrong digit" }>,
): Pick<Report, "message" | "advice"> {
  if (check.kind === "wrong character") {
    return {
      message: `\`${check.character}\` is never used in a vehicle identification number.`,
      advice:
        "The letters I, O and Q are left out because they look like 1 and 0. Read the number again from the vehicle.",
    };
  }
  return {
    message: `The check digit of this VIN should be ${check.expected}, not ${check.found}: a character is wrong somewhere.`,
    advice:
      "Read the number again from the vehicle. On vehicles built for markets outside North America the digit need not be right.",
  };
}

export const page: RulePage = {
  title: "A VIN whose check digit is wrong",
  means: "The ninth character of the 17 does not fit the others.",
  mend: "Read the number again from the vehicle.",
  source: "49 CFR 565.15",
  breaks: { note: "---\njob: 2031-0042\nvehicle: { vin: 11111111211111111 }\n---\n" },
  keeps: { note: "---\njob: 2031-0042\nvehicle: { vin: 11111111111111111 }\n---\n" },
};
