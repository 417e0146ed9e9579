import type { Procedure } from "../procedures/procedure.ts";

export interface NewNote {
  readonly procedure: Procedure;
  readonly job: string;
  /** `YYYY-MM-DD`. */
  readonly date: string;
}

/**
 * A new job note in the snippet syntax of the protocol: Tab goes from gap to gap. Values are gaps and never
 * examples, since an example that is left standing would be read as a measurement.
 */
export function newNoteSnippet({ procedure, job, date }: NewNote): string {
  let gaps = 1;
  const gap = (): string => `\${${++gaps}}`;
  const subject = "$1";
  const lines = [
    "---",
    `job: ${plain(job)}`,
    `procedure: ${procedure.id}`,
    `subject: ${subject}`,
    `vehicle: { description: ${gap()} }`,
    `complaint: ${gap()}`,
    `by: ${gap()}`,
    `date: ${plain(date)}`,
    "status: open",
    "---",
    "",
    `# ${subject}`,
    "",
    ...cautionsOf(procedure),
    "",
    "## Readings",
    "",
    "```readings",
    ...readingLines(procedure, gap),
    "```",
    "",
    ...limitLines(procedure),
    "## Steps",
    "",
    "```steps",
    ...(procedure.usual.length > 0 ? procedure.usual.map((step) => `--:--  ${plain(step)}`) : [`${gap()}`]),
    "```",
    "",
  ];
  return `${lines.join("\n")}\${0}`;
}

const cautionsOf = ({ cautions }: Procedure): string[] => [
  "> Caution:",
  ">",
  ...cautions.map((caution) => `> * ${plain(caution)}`),
];

/** What a careful technician always writes down has a line; what may be wanted stands there as a remark. */
function readingLines({ readings }: Procedure, gap: () => string): string[] {
  const always = readings.filter(({ required, when }) => required && when === undefined);
  const maybe = readings.filter((reading) => !always.includes(reading));
  const lines = always.map(({ name, unit }) => `${plain(name)}: ${gap()}${unit ? ` ${plain(unit)}` : ""}`);
  if (lines.length === 0) lines.push(gap());
  for (const { name, unit, why } of maybe)
    lines.push(`# ${plain(name)}:${unit ? ` … ${plain(unit)}` : " …"}   ${plain(why)}`);
  return lines;
}

/** The built-in limits as remarks: the maker's own figure belongs there, and only the technician knows it. */
function limitLines({ limits }: Procedure): string[] {
  const lines: string[] = [];
  for (const { of, errorAbove, warnAbove, source, raisable } of limits) {
    const bound = warnAbove ?? errorAbove;
    const [reading] = of.readings;
    if (!raisable || !reading || typeof bound !== "string") continue;
    const line = `# ${plain(reading)} <= ${plain(bound)}   source: ${plain(source)}`;
    if (!lines.includes(line)) lines.push(line);
  }
  return lines.length === 0 ? [] : ["```limits", ...lines, "```", ""];
}

/** Characters that mean something in a snippet lose their meaning; a line stays one line. */
const plain = (text: string): string =>
  text
    .replace(/\s+/g, " ")
    .trim()
    .replace(/[\\$}]/g, "\\$&");
