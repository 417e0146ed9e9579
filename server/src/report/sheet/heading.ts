import type { Analysis } from "../../analysis/analysis.ts";
import type { FrontMatterFields } from "../../note/front-matter.ts";
import type { Procedure } from "../../procedures/procedure.ts";
import { findingsList, findingsOutside, tally } from "./findings.ts";
import { type Html, html } from "./html.ts";

/** The head of the sheet: what the job is about, how it stands, and what no block of the note can show. */
export function sheetHeading(analysis: Analysis, procedure: Procedure | undefined): Html {
  const { fields } = analysis.note.frontMatter;
  const facts = factsOf(fields, procedure);
  return html`<section class="wm-heading"><p class="wm-job"><strong>Job ${fields.job ?? "without a number"}</strong>${
    fields.subject && html`: ${fields.subject}`
  }</p><dl class="wm-facts">${facts.map(([term, says]) => html`<div><dt>${term}</dt><dd>${says}</dd></div>`)}</dl><p class="wm-tally">Checked: ${tally(
    analysis,
  )}.</p>${findingsList(findingsOutside(analysis), true)}</section>`;
}

type Fact = readonly [term: string, says: string];

function factsOf(fields: FrontMatterFields, procedure: Procedure | undefined): Fact[] {
  const facts: [string, string | undefined][] = [
    ["Vehicle", vehicleSays(fields.vehicle)],
    ["Complaint", fields.complaint],
    ["Cause", fields.cause],
    ["Correction", fields.correction],
    ["Parts", listed(fields.parts)],
    ["Procedure", procedure?.title ?? fields.procedure],
    ["Went by", listed(fields.source)],
    ["Comeback of", fields.comebackOf],
    ["Status", statusSays(fields)],
    ["By", fields.by],
    ["Reviewed by", fields.reviewedBy],
    ["Date", fields.date],
  ];
  return facts.flatMap(([term, says]) => (says ? [[term, says] as const] : []));
}

const listed = (given: string | readonly string[] | undefined): string | undefined =>
  typeof given === "object" ? given.join("; ") : given;

const statusSays = ({ status, outcome }: FrontMatterFields): string | undefined =>
  status && outcome ? `${status}, ${outcome}` : (status ?? outcome);

export function vehicleSays(vehicle: FrontMatterFields["vehicle"]): string | undefined {
  if (!vehicle) return undefined;
  const { description, make, model, year, engine, odometer, hours, vin, serial, plate } = vehicle;
  const parts = [
    description,
    make,
    model,
    year === undefined ? undefined : String(year),
    engine,
    odometer,
    hours && (/[a-z]/i.test(hours) ? hours : `${hours} h`),
    vin && `VIN ${vin}`,
    serial && `serial ${serial}`,
    plate && `plate ${plate}`,
    vehicle["fleet number"] && `fleet number ${vehicle["fleet number"]}`,
  ].filter((part) => part !== undefined && part !== "");
  return parts.length === 0 ? undefined : parts.join(", ");
}
