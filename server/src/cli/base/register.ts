import { type Command, InvalidArgumentError, Option } from "commander";
import type { ExitStatus, Outside } from "../outside.ts";
import type { ExportOptions } from "./export.ts";
import type { FindOptions } from "./find.ts";
import type { ImportOptions } from "./import.ts";
import type { SimilarOptions } from "./similar.ts";
import type { TableOptions } from "./table.ts";

const FIND_HELP = `
A condition is written like a formula in a note:

  witness-mark find 'leak size > 0.3 mm and procedure is "lamp-moisture"' notes/
  witness-mark find 'date >= "2031-03" and not done("retest")'
  witness-mark find 'says(complaint, "droplets") and duration("dry") > 2 h'
  witness-mark find --words "droplts lens"

Readings go by their names; in a labelled block the bare name means that block's own. The front matter has
names too: job, procedure, subject, complaint, cause, by, date, status, outcome, vehicle year, vehicle
odometer, vehicle hours and so on; errors and warnings are counted. A note that does not have what a
condition asks for is not found by it.

Questions:
  done("seal"), done("seal", "lower seam")   the step was done, at that place
  planned("retest")                          the step is still to do
  outcome of("retest", "pass")               it was done with that outcome
  duration("dry")                            the time that it took
  finding("limit/exceeded"), finding("limit")  a finding of that rule or group of rules
  accepted("sequence/needs")                 one that the note accepts with a reason
  has(leak size)                             the note has that reading or field
  says("droplets"), says(complaint, "lens")  the words stand in the note or the field

Columns of a series go by their figures, as in a formula of the note: mean(decay p), spread(decay p),
least(decay p), greatest(decay p), count(decay p), slope(decay p, decay time), and first(decay p) and
last(decay p) besides; the bare name is the mean. A slope is kept over the series' first column.

Days are compared with a day, a month or a year, in quotes: "2031-03-04", "2031-03", "2031".
--words forgives a slip and finds words by their beginning; all of them must be there.`;

const TABLE_HELP = `
  witness-mark table "leak size" --by subject
  witness-mark table 'duration("dry") [h]' --against "bay humidity" --plot drying.svg
  witness-mark table "test pressure" --by instrument --against date --plot pressure.svg
  witness-mark table "mean pressure" --by label --compare A,B

Over the date, dashed lines mark the days on which the instruments of the values were calibrated, as the shop
file says. Spread is the sample standard deviation; quarters and median are interpolated. Two results agree when their
En number lies between -1 and 1 (ISO 13528); what both share, such as the zero of a gauge that both were read
from, cancels in it where the shop file splits the gauge's error.`;

const formats = (): Option =>
  new Option("--format <form>", "how to write the result")
    .choices(["readable", "json", "csv"])
    .default("readable");
const QUIET = ["--quiet", "show no progress on the terminal", false] as const;

/** Adds the commands that work on many notes. */
export function registerBase(program: Command, outside: Outside, end: (status: ExitStatus) => void): void {
  program
    .command("find")
    .description("find notes by a condition on their values, by dates, steps, findings, or by words")
    .argument("[condition]", "a condition in the notes' formula language; optional with --words")
    .argument("[paths...]", "notes and folders to look in; without one, the folder you are in")
    .option("--words <text>", "words that the note must hold, slips forgiven")
    .addOption(formats())
    .option(...QUIET)
    .addHelpText("after", FIND_HELP)
    .action(async (condition: string | undefined, paths: string[], options: FindOptions) => {
      const given = condition === undefined ? [] : [condition, ...paths];
      end(await outside.base().find(given, options, outside));
    });

  program
    .command("similar")
    .description("find earlier notes like this one, and say why each is like it")
    .argument("<file>", "the job note")
    .argument("[paths...]", "notes and folders to look in; without one, the folder you are in")
    .addOption(new Option("--most <count>", "how many to show").argParser(wholeNumber).default(5))
    .addOption(formats())
    .option(...QUIET)
    .action(async (file: string, paths: string[], options: SimilarOptions) => {
      end(await outside.base().similar(file, paths, options, outside));
    });

  program
    .command("table")
    .description("gather named values with their statistics, by group, and plot them")
    .argument("<names...>", 'readings or formulas of readings, each in quotes: "leak size [mm]"')
    .option("--by <group>", "a field such as subject, or instrument, label, year, month")
    .option("--where <condition>", "only notes that meet this condition")
    .option("--in <paths...>", "notes and folders to look in; without it, the folder you are in")
    .option("--plot <file>", "write the first value as an SVG plot, by group")
    .option("--against <value>", "what the plot goes over: another reading or formula, or date")
    .option(
      "--compare <pair>",
      "two instruments or groups, as in P2,P4: En numbers of what both read in one note",
    )
    .addOption(formats())
    .option(...QUIET)
    .addHelpText("after", TABLE_HELP)
    .action(async (names: string[], options: TableOptions) => {
      end(await outside.base().table(names, options, outside));
    });

  program
    .command("export")
    .description("write notes for other programs: tables as CSV or Parquet, or one object a line (NDJSON)")
    .argument("<out>", "the folder for the tables, or the file for NDJSON")
    .argument("[paths...]", "notes and folders to export; without one, the folder you are in")
    .addOption(
      new Option("--format <form>", "how to write them")
        .choices(["csv", "ndjson", "parquet"])
        .makeOptionMandatory(),
    )
    .option("--personal", "also write what tells who the customer is: name, plate, vehicle number", false)
    .option("--quiet", "show no progress and no summary", false)
    .action(async (out: string, paths: string[], options: ExportOptions) => {
      end(await outside.base().exportNotes(out, paths, options, outside));
    });

  program
    .command("import")
    .description("turn a logger's CSV file into a series block, printed or put at the end of a note")
    .argument("<log>", "the file")
    .option("--name <name>", "name of the series", "log")
    .option("--into <note>", "the note that it is put at the end of; without it, it is printed")
    .addOption(new Option("--every <n>", "take every n-th row").argParser(wholeNumber).default(1))
    .option("--rows", "write all rows even when they are many, instead of pointing to the file", false)
    .addOption(new Option("--separator <sign>", "between cells").choices(["comma", "semicolon", "tab"]))
    .addOption(new Option("--decimal <sign>", "decimal sign of the file").choices(["point", "comma"]))
    .addOption(new Option("--skip <lines>", "lines before the table").argParser(countNumber))
    .action((log: string, options: ImportOptions) => {
      end(outside.base().importLog(log, options, outside));
    });
}

function countNumber(text: string): number {
  return text === "0" ? 0 : wholeNumber(text);
}

function wholeNumber(text: string): number {
  const number = Number(text);
  if (Number.isInteger(number) && number > 0) return number;
  throw new InvalidArgumentError("Write a whole number.");
}
