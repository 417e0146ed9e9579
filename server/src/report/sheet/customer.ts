import type { Analysis } from "../../analysis/analysis.ts";
import type { JobOutcome } from "../../note/front-matter.ts";
import { clock } from "./clock.ts";
import { vehicleSays } from "./heading.ts";
import { type Html, html } from "./html.ts";
import { signatures } from "./signatures.ts";

const ENDED: Readonly<Record<JobOutcome, string>> = {
  repaired: "The fault was repaired.",
  replaced: "The faulty part was replaced.",
  "no fault found": "We looked for the fault and could not find one.",
  declined: "You decided against the repair. The fault is still there.",
  "diagnosis only": "We looked for the cause, as agreed. Nothing was repaired.",
};

/**
 * The sheet for the customer: what was asked, found and done, and how it was proved. It leaves out the
 * workshop's own notes, but never that a job is not finished or that something is still to be settled.
 */
export function customerBody(analysis: Analysis): Html {
  const { fields } = analysis.note.frontMatter;
  const parts = typeof fields.parts === "string" ? [fields.parts] : (fields.parts ?? []);
  const open = analysis.findings.some(({ severity }) => severity === "error");
  const done = fields.status === "done";
  return html`<div class="wm-sheet"><section class="wm-heading"><h1 class="wm-job"><strong>Job ${fields.job ?? "without a number"}</strong>${fields.subject && html`: ${fields.subject}`}</h1><p>${[
    vehicleSays(fields.vehicle),
    fields.date,
  ]
    .filter(Boolean)
    .join(
      " · ",
    )}</p></section></div>${told("What you told us", fields.complaint)}${told("What we found", fields.cause)}${told("What we did", fields.correction)}${
    parts.length > 0 ? html`<h2>Parts</h2><ul>${parts.map((part) => html`<li>${part}</li>`)}</ul>` : undefined
  }${proofs(analysis)}<h2>How it ended</h2><p>${
    done && fields.outcome ? ENDED[fields.outcome] : "The work is not finished yet."
  }</p>${
    open
      ? html`<p>The workshop still has something to settle in its own notes, so this sheet is not final.</p>`
      : undefined
  }${signatures([
    ["Workshop", undefined],
    ["Customer", undefined],
  ])}`;
}

const told = (heading: string, text: string | undefined): Html | undefined =>
  text ? html`<h2>${heading}</h2><p>${text}</p>` : undefined;

/** Tests and checks with their outcome; of a test that was done more than once, the last one counts. */
function proofs({ note }: Analysis): Html | undefined {
  const last = new Map<string, Html>();
  let day = note.frontMatter.fields.date;
  for (const block of note.blocks) {
    if (block.kind !== "steps") continue;
    for (const { syntax } of block.lines) {
      if (syntax.kind === "date") day = syntax.date.iso;
      if (syntax.kind !== "step" || syntax.time.minutes === undefined) continue;
      const word = syntax.outcome?.word;
      if (word !== "pass" && word !== "fail") continue;
      const what = syntax.place ? `${syntax.step.text}, ${syntax.place.text}` : syntax.step.text;
      const when = [day, clock(syntax.time.minutes)].filter(Boolean).join(" ");
      last.delete(what);
      last.set(what, html`<li>${capital(what)}: ${word === "pass" ? "passed" : "not passed"} (${when})</li>`);
    }
  }
  return last.size === 0 ? undefined : html`<h2>Tests and checks</h2><ul>${[...last.values()]}</ul>`;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
