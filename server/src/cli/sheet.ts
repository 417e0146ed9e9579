import { createHash, randomBytes } from "node:crypto";
import { renameSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { analyze } from "../check/analyze.ts";
import { readShop } from "../check/read-shop.ts";
import { ShopFinder } from "../host/nearest-shop.ts";
import { pictureData } from "../host/picture.ts";
import { readText, reasonOf } from "../host/read-text.ts";
import { surroundingsOf } from "../host/surroundings.ts";
import { isJobNote, readNote } from "../note/read-note.ts";
import { harmless } from "../report/display-width.ts";
import { tally } from "../report/sheet/findings.ts";
import { sheetPage } from "../report/sheet/page.ts";
import { noShop } from "../shop/read-shop.ts";
import type { Shop } from "../shop/shop.ts";
import { shownPath } from "./file-checker.ts";
import { EXIT, type ExitStatus, type Outside } from "./outside.ts";

export interface SheetOptions {
  readonly customer: boolean;
  readonly output?: string;
}

type Needed = Pick<Outside, "out" | "err" | "folder" | "libraries">;

/** `witness-mark sheet FILE`: the note as one HTML file for print, on standard output or in a file. */
export function sheet(file: string, options: SheetOptions, outside: Needed): ExitStatus {
  const fail = (why: string): ExitStatus => {
    outside.err(`${why}\n`);
    return EXIT.failed;
  };
  const path = resolve(outside.folder, file);
  const reading = readText(path);
  if (!reading.ok) return fail(`${harmless(file)} ${reading.reason}.`);
  const { libraries } = outside;
  const note = readNote(reading.text, libraries.yaml);
  if (!isJobNote(note)) return fail(`${harmless(file)} is no job note: its front matter has no \`job\`.`);
  const folder = dirname(path);
  const shopPath = new ShopFinder().find(folder);
  const root = shopPath === undefined ? folder : dirname(shopPath);
  const shop = shopAt(shopPath, outside);
  if (typeof shop === "string") return fail(shop);
  const surroundings = surroundingsOf(note, folder, (request) => libraries.logs(request, folder, root));
  const analysis = analyze(note, shop, surroundings);
  const { procedure } = note.frontMatter.fields;
  const page = sheetPage({
    analysis,
    procedure: procedure === undefined ? undefined : shop.procedures.get(procedure),
    path: shownPath(path, outside.folder),
    embed: (target) => pictureData(target, folder, root),
    customer: options.customer,
    fingerprint: (text) => `sha256-${createHash("sha256").update(text).digest("base64")}`,
  });
  if (options.output === undefined) {
    outside.out(page);
    return EXIT.clear;
  }
  const fault = writeWhole(resolve(outside.folder, options.output), page);
  if (fault !== undefined) return fail(`${harmless(options.output)} ${fault}.`);
  outside.err(`${harmless(options.output)} is there. The note was checked: ${tally(analysis)}.\n`);
  return EXIT.clear;
}

/** The shop, or why its file could not be read. */
function shopAt(path: string | undefined, { libraries, folder }: Needed): Shop | string {
  if (path === undefined) return noShop(libraries.procedures());
  const reading = readText(path);
  if (!reading.ok) return `${harmless(shownPath(path, folder))} ${reading.reason}.`;
  return readShop(reading.text, libraries.yaml, libraries.procedures());
}

/** Writes a file under another name first, so that nobody ever finds half of it. Gives the reason where it fails. */
function writeWhole(path: string, text: string): string | undefined {
  const beside = join(dirname(path), `.${basename(path)}.${randomBytes(4).toString("hex")}`);
  try {
    writeFileSync(beside, text, { flag: "wx" });
    renameSync(beside, path);
    return undefined;
  } catch (fault) {
    rmSync(beside, { force: true });
    return reasonOf(fault);
  }
}
