import { linkSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { readShop } from "../check/read-shop.ts";
import { ShopFinder } from "../host/nearest-shop.ts";
import { readText, reasonOf } from "../host/read-text.ts";
import { newNoteSnippet } from "../ide/new-note.ts";
import type { Procedure } from "../procedures/procedure.ts";
import { displayWidth, harmless } from "../report/display-width.ts";
import { nearest } from "../text/nearest.ts";
import { EXIT, type ExitStatus, type Outside } from "./outside.ts";

/** `witness-mark new PROCEDURE [FILE]`: writes a new note for a procedure, or prints it. */
export function newNote(asked: string | undefined, file: string | undefined, outside: Outside): ExitStatus {
  const procedures = proceduresFor(file, outside);
  if (asked === undefined) {
    outside.out(listOf(procedures));
    return EXIT.clear;
  }
  const procedure = procedures.get(asked);
  if (!procedure) {
    const [near] = nearest(asked, procedures.keys(), 1);
    outside.err(
      `There is no procedure \`${harmless(asked)}\`.${near === undefined ? "" : ` Did you mean \`${near}\`?`}\n` +
        "witness-mark new lists all procedures.\n",
    );
    return EXIT.failed;
  }
  const job = file === undefined ? "new" : basename(file).replace(/\.(?:md|markdown)$/i, "");
  const text = plainNote(procedure, job, outside.today());
  if (file === undefined) {
    outside.out(text);
    return EXIT.clear;
  }
  const fault = writeNew(resolve(outside.folder, file), text);
  if (fault !== undefined) {
    outside.err(`${harmless(file)} ${fault}.\n`);
    return EXIT.failed;
  }
  outside.out(`${harmless(file)} is there: ${procedure.title}.\n`);
  return EXIT.clear;
}

/** The built-in procedures with those of the shop file that is nearest to the new note. */
function proceduresFor(
  file: string | undefined,
  { folder, libraries }: Outside,
): ReadonlyMap<string, Procedure> {
  const shop = new ShopFinder().find(file === undefined ? folder : dirname(resolve(folder, file)));
  const reading = shop === undefined ? undefined : readText(shop);
  if (reading?.ok) return readShop(reading.text, libraries.yaml, libraries.procedures()).procedures;
  return new Map(libraries.procedures().map((procedure) => [procedure.id, procedure]));
}

function listOf(procedures: ReadonlyMap<string, Procedure>): string {
  const widest = Math.max(...[...procedures.keys()].map(displayWidth));
  const lines = [...procedures.values()].map(({ id, title }) => `  ${id.padEnd(widest)}  ${title}`);
  return `witness-mark new PROCEDURE FILE writes a note for one of these.\n\n${lines.join("\n")}\n`;
}

/** The editor's new note with its gaps left empty; what an empty gap would make a mistake is left out. */
function plainNote(procedure: Procedure, job: string, date: string): string {
  const snippet = newNoteSnippet({ procedure, job, date });
  const lines = snippet.split("\n").map((line) => {
    const gaps = /(?<!\\)\$(?:\{\d+\}|\d+)/g;
    const filled = line.replace(gaps, "").replace(/\\([\\$}])/g, "$1");
    return { filled: filled.trimEnd(), hadGap: filled !== line.replace(/\\([\\$}])/g, "$1") };
  });
  return `${lines
    .filter(({ filled, hadGap }) => !hadGap || filled === "# " || filled === "")
    .map(({ filled }) => filled)
    .join("\n")
    .trimEnd()}\n`;
}

/**
 * Writes a new file all at once: under another name first, which then becomes its own. A file that is there
 * already is never touched. Gives the reason where it cannot be done.
 */
function writeNew(path: string, text: string): string | undefined {
  const draft = join(dirname(path), `.${basename(path)}.${process.pid}.new`);
  try {
    writeFileSync(draft, text, { flag: "wx" });
    // A link fails where the name is taken, which renaming would not.
    linkSync(draft, path);
    return undefined;
  } catch (fault) {
    const code = fault instanceof Error && "code" in fault ? fault.code : "";
    if (code === "EEXIST") return "is there already and stays as it is";
    if (code === "ENOENT") return "cannot be written: its folder is not there, so make the folder first";
    return reasonOf(fault).replace("cannot be read", "cannot be written");
  } finally {
    rmSync(draft, { force: true });
  }
}
