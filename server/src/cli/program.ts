import { Command, CommanderError, Option } from "commander";
import { version } from "../../../package.json";
import { registerBase } from "./base/register.ts";
import type { CheckOptions } from "./check.ts";
import { lsp, TRANSPORTS } from "./lsp.ts";
import { EXIT, type ExitStatus, type Outside } from "./outside.ts";
import { CHECK_FORMATS, REVIEW_FORMATS } from "./report-formats.ts";
import type { ReviewOptions } from "./review.ts";
import type { SheetOptions } from "./sheet.ts";
import type { SiteOptions } from "./site.ts";

const ABOUT = "Checks a vehicle technician's job notes: readings, formulas, limits, and the order of work.";

const CHECK_HELP = `
Folders are searched for markdown files (.md, .markdown), all the way down, save for folders whose name
starts with a dot and node_modules. A markdown file is a job note when its front matter has the key job;
others are left alone.

Each note is checked with the nearest shop.yaml, in its own folder or above it. The search for one ends at
a folder that holds .git.

Exit status:
  0  no errors (there may be warnings)
  1  at least one error was found (0 with --exit-zero)
  2  the work could not be done: an unknown option, a file that cannot be read, or Ctrl-C`;

const REVIEW_HELP = `
Exit status:
  0  no errors; with --since, no new ones
  1  at least one error; with --since, at least one new one
  2  the work could not be done`;

/**
 * Runs the command line. Undefined when the process goes on as a language server; otherwise the exit status.
 * `args` leaves out the names of node and the script.
 */
export async function run(args: readonly string[], outside: Outside): Promise<ExitStatus | undefined> {
  // Some editors start a language server with the transport alone and cannot be told otherwise.
  if (TRANSPORTS.some((transport) => args[0]?.split("=", 1)[0] === transport)) return lsp(outside);

  let status: ExitStatus | undefined = EXIT.clear;
  const program = new Command("witness-mark")
    .description(ABOUT)
    .version(version, "--version", "print the version")
    .helpOption("--help", "print this help")
    .helpCommand(false)
    .exitOverride()
    .configureOutput({
      writeOut: outside.out,
      writeErr: outside.err,
      outputError: (message, write) => write(inPlainWords(message)),
    });

  program
    .command("check")
    .description("check job notes and shop files")
    .argument("[paths...]", "notes and folders to check; without one, the folder you are in")
    .addOption(
      new Option("--format <form>", "how to write the result").choices(CHECK_FORMATS).default("readable"),
    )
    .option("--values", "also print what each note derives, with its uncertainty", false)
    .option("--quiet", "print errors only: no warnings, no summary", false)
    .option("--exit-zero", "end with 0 even when errors are found", false)
    .option("--staged", "check what the next git commit adds or changes, as it stands in git's index", false)
    .addHelpText("after", CHECK_HELP)
    .action(async (paths: string[], options: CheckOptions) => {
      status = await outside.checker().check(paths, options, outside);
    });

  program
    .command("next")
    .description("say what a job's next steps are, what has to wait, and what may not be done yet")
    .argument("<file>", "the job note")
    .action((file: string) => {
      status = outside.checker().next(file, outside);
    });

  program
    .command("new")
    .description("write a new job note for a procedure; without one, list the procedures")
    .argument("[procedure]", "the procedure, such as lamp-moisture")
    .argument(
      "[file]",
      "the new note; a file that is there already is never changed. Without one it is printed",
    )
    .action((procedure: string | undefined, file: string | undefined) => {
      status = outside.checker().newNote(procedure, file, outside);
    });

  program
    .command("why")
    .description("explain a rule; without one, list all rules")
    .argument("[rule]", "the rule's name as it stands in a finding, such as unit/decimal-comma")
    .action((rule: string | undefined) => {
      status = outside.checker().why(rule, outside);
    });

  program
    .command("sheet")
    .description("make a job note one HTML page for print or for the customer")
    .argument("<file>", "the note")
    .option("--customer", "the short version in plain words, without the workshop's own notes", false)
    .option("--output <file>", "where to write the page; without it, it goes to standard output")
    .action((file: string, options: SheetOptions) => {
      status = outside.sheets().sheet(file, options, outside);
    });

  program
    .command("site")
    .description("make all notes a site of pages with search, tables and plots, which needs no server")
    .argument("<out>", "the folder for the site; one that was made so before is replaced as a whole")
    .argument("[paths...]", "notes and folders; without one, the folder you are in")
    .option("--title <words>", "what the site is called", "Job notes")
    .option("--quiet", "say nothing but what went wrong", false)
    .action(async (out: string, paths: string[], options: SiteOptions) => {
      status = await outside.sheets().site(out, paths, options, outside);
    });

  registerBase(program, outside, (ended) => {
    status = ended;
  });

  program
    .command("review")
    .description(
      "review write-ups: what is missing, unsupported, accepted and why, out of date, and what it teaches",
    )
    .argument("[paths...]", "notes and folders; without one, the folder you are in")
    .addOption(
      new Option("--format <form>", "how to write the review").choices(REVIEW_FORMATS).default("text"),
    )
    .option(
      "--since <revision>",
      "review only what changed since a git revision (or A..B), with what became of it",
    )
    .addHelpText("after", REVIEW_HELP)
    .action((paths: string[], options: ReviewOptions) => {
      status = outside.checker().review(paths, options, outside);
    });

  program
    .command("textconv")
    .description("print a note with its results, for git diff")
    .argument("<file>", "the note")
    .action((file: string) => {
      status = outside.checker().textconv(file, outside);
    });

  program
    .command("lsp")
    .description("start the language server for an editor")
    .option("--stdio", "talk over standard input and output (the default)")
    .addOption(new Option("--node-ipc").hideHelp())
    .addOption(new Option("--socket <port>").hideHelp())
    .addOption(new Option("--pipe <name>").hideHelp())
    .addOption(new Option("--clientProcessId <id>").hideHelp())
    .action(() => {
      status = lsp(outside);
    });

  try {
    await program.parseAsync(args, { from: "user" });
  } catch (fault) {
    if (!(fault instanceof CommanderError)) throw fault;
    return fault.exitCode === 0 ? EXIT.clear : EXIT.failed;
  }
  return status;
}

function inPlainWords(message: string): string {
  const text = message.replace(/^error: /, "").trimEnd();
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.\nwitness-mark --help lists what there is.\n`.replace(
    /([.?)])\.\n/,
    "$1\n",
  );
}
