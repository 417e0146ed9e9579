// What findings say to a technician: figures as they were written, reasons that fit, and what to do.
import { describe, expect, it } from "vitest";
import { analyzeText } from "../support/analyze-text.ts";

const block = (kind: string, lines: string) => `\`\`\`${kind}\n${lines}\n\`\`\`\n`;
const note = (body: string, head = "") => `---\njob: 2031-0042\ndate: 2031-03-04\n${head}---\n\n${body}`;
function one(text: string, rule: string) {
  const finding = analyzeText(text).findings.find((each) => each.rule === rule);
  if (!finding) throw new Error(`no ${rule}`);
  return finding;
}

describe("a limit's finding", () => {
  const held = (readings: string, limits: string, rule: string) =>
    one(note(block("readings", readings) + block("limits", limits)), rule);

  it("gives a reading with the digits that were written", () => {
    expect(held("p: 2.50 psi", "p <= 2 psi", "limit/exceeded").message).toBe(
      "`p` is 2.50 psi, 0.5 psi beyond its limit of 2 psi.",
    );
    // In another unit than the limit's it is converted, and of a list it is the worst.
    expect(held("p: 20.00 kPa", "p <= 2 psi", "limit/exceeded").message).toMatch(/^`p` is 2\.901 psi,/);
    expect(held("p: 2.50, 2.60 psi", "p <= 2 psi", "limit/exceeded").message).toMatch(/^`p` is 2\.6 psi,/);
  });

  it("does not call an acceptance figure failed where it may still be met", () => {
    const { severity, message, why } = held(
      "flow: 3.60 L/min ± 0.2 L/min",
      "flow <= 3.55 L/min (acceptance)",
      "limit/exceeded",
    );
    expect(severity).toBe("warning");
    expect(message).toContain("less than the uncertainty of 0.23 L/min");
    expect(why).toContain("may still be inside");
  });
});

describe("a result of another kind", () => {
  it.each([
    ["f [N] = p * l", "The formula gives a force divided by a length, and `N` stands for a force."],
    ["f [N] = p * a * l", "The result is an energy or torque (J), and `N` stands for a force."],
    ["w [A] = p * l", "The result is a quantity of another kind (kg/s2), and `A` stands for a current."],
  ])("is told by what it lacks: %s", (line, message) => {
    const text = note(block("readings", `p: 0.7 psi\nl: 18 cm\na: 3 cm2\n${line}`));
    expect(one(text, "unit/mismatch").message).toBe(message);
  });
});

describe("a step's finding", () => {
  const lamp = (steps: string) => note(block("steps", steps), "procedure: lamp-moisture\n");

  it("names the ways to say something once", () => {
    const { advice } = one(lamp("09:00  pressurize: 0.5 psi"), "sequence/needs");
    expect(advice.match(/say so in the remark/g)?.length ?? 0).toBeLessThan(2);
    const all = analyzeText(lamp("09:00  isolate power\n09:10  pressurize: 0.5 psi")).findings;
    expect(all.find(({ rule }) => rule === "sequence/needs")?.advice).toContain(
      "Or say so in the remark (as in “no vent” or “on purpose”).",
    );
  });

  it("says until when to wait", () => {
    const steps = [
      "09:00  isolate power",
      "09:05  locate [seam]: found, crack seen",
      "09:10  open",
      "09:12  dry: air 40 degC until 09:40",
      "09:45  inspect: none",
      "09:50  clean [seam]",
      "10:00  seal [seam]",
      "10:30  water test [seam]: pass",
    ];
    expect(one(lamp(steps.join("\n")), "sequence/not-cured").advice).toContain(
      "Wait until 2031-03-05 10:00, then do",
    );
  });

  it("says why a test did not give what the end asks for", () => {
    const text = note(
      block("steps", "09:00  test cap: fail, opens at 9 psi"),
      "procedure: cooling-pressure\nstatus: done\noutcome: replaced\n",
    );
    expect(one(text, "sequence/incomplete").advice).toContain(
      "a good cap comes from `test cap` or `replace cap`; `test cap` at 09:00 does not give it, since it says fail",
    );
  });
});
