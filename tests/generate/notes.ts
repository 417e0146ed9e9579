import {
  decayRows,
  fenced,
  leakReadings,
  PROCEDURES,
  secondReadings,
  stepLines,
  withMistake,
} from "./parts.ts";
import { paragraph, sentence } from "./prose.ts";
import { Random } from "./random.ts";

/** A generated file: its path inside a folder of notes, and its text. */
export interface GeneratedNote {
  readonly path: string;
  readonly text: string;
}

/**
 * So many notes of an invented farm-and-fleet workshop, each of 112 to 128 lines with 27 readings; the same
 * for the same seed. A folder holds a hundred of them.
 */
export function* generateNotes(count: number, seed = 1): Generator<GeneratedNote> {
  for (let number = 0; number < count; number++) {
    const folder = String(Math.floor(number / 100)).padStart(3, "0");
    const file = String(number % 100).padStart(2, "0");
    yield { path: `${folder}/job-${folder}-${file}.md`, text: generateNote(number, seed) };
  }
}

/** The share of notes with a mistake in them. */
const MISTAKEN = 0.2;

/** One note of 112 to 128 lines. */
export function generateNote(number: number, seed = 1): string {
  const random = new Random(seed * 1_000_003 + number);
  const procedure = random.pick(PROCEDURES);
  const lines = random.whole(112, 128);
  const day = dayOf(number);
  const head = [
    ...frontMatter(random, number, procedure, day),
    "",
    `# Job ${number + 1}`,
    "",
    ...paragraph(random, 4),
    "",
    "## Test",
    "",
    ...fenced("readings", leakReadings(random, procedure === "evap-leak" ? "inH2O" : "psi", procedure)),
    "",
    ...paragraph(random, 2),
    "",
    ...fenced("series decay", decayRows(random, 8)),
    "",
    ...fenced("limits", limitLines(procedure)),
    "",
    "## Work",
    "",
    ...fenced("steps", stepLines(random, procedure, day, random.whole(6, 12))),
    "",
    "## Second look",
    "",
    ...fenced("readings second", secondReadings(random)),
    "",
    "## Left to do",
    "",
    ...Array.from({ length: 4 }, () => `- ${sentence(random)}`),
    "",
  ];
  const note = `${[...head, ...paragraph(random, Math.max(1, lines - head.length))].join("\n")}\n`;
  return random.next() < MISTAKEN ? withMistake(random, note) : note;
}

/** One note of exactly so many lines, for measuring how the time per keystroke grows. */
export function generateLongNote(lines: number, seed = 1): string {
  const random = new Random(seed * 7_919 + lines);
  const out = [...frontMatter(random, 0, "general", dayOf(0)), "", "# A long job", ""];
  for (let part = 1; out.length < lines; part++) {
    out.push(
      `## Part ${part}`,
      "",
      ...paragraph(random, 3),
      "",
      ...fenced(`readings part ${part}`, leakReadings(random, "kPa", "general")),
      "",
      ...fenced(`series decay ${part}`, decayRows(random, 6)),
      "",
      ...fenced("limits", [`part ${part} test pressure <= 7 kPa  source: service information for this part`]),
      "",
      ...fenced("steps", stepLines(random, "general", dayOf(part), 12)),
      "",
      ...paragraph(random, 4),
      "",
    );
  }
  return `${closed(out.slice(0, lines)).join("\n")}\n`;
}

/** A note that was cut off must not end inside a fence: then the rest is blank lines. */
function closed(lines: string[]): string[] {
  let open = -1;
  lines.forEach((line, index) => {
    if (line.startsWith("```")) open = open < 0 ? index : -1;
  });
  if (open < 0) return lines;
  return lines.map((line, index) => (index < open ? line : sentence(new Random(index))));
}

function frontMatter(random: Random, number: number, procedure: string, day: string): string[] {
  const job = `${day.slice(0, 4)}-${String(number + 1).padStart(5, "0")}`;
  return [
    "---",
    `job: ${job}`,
    `procedure: ${procedure}`,
    `subject: ${random.pick(["rear lamp", "front work lamp", "fuel tank", "radiator", "cab loom"])}`,
    `vehicle: { description: ${random.pick(["farm utility", "grain truck", "yard loader"])}, year: ${random.whole(2005, 2030)}, odometer: ${random.whole(10, 399)} ${random.whole(100, 999)} km }`,
    `complaint: ${random.pick(["droplets inside the lens", "smell of fuel", "loses coolant", "battery flat on Monday"])}`,
    `by: tech ${random.whole(1, 6)}`,
    "status: open",
    "---",
  ];
}

function limitLines(procedure: string): string[] {
  return [
    procedure === "evap-leak"
      ? "test pressure <= 14 inH2O    source: service information for this tank"
      : "test pressure <= 1 psi       source: service information for this part",
    "supply current <= 15 A       source: fuse of the outlet used",
    "lead drop <= 1.5 V           source: shop practice",
  ];
}

function dayOf(number: number): string {
  const day = new Date(Date.UTC(2031, 0, 6) + number * 86_400_000);
  return day.toISOString().slice(0, 10);
}
