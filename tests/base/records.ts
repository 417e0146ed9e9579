import { makeRecord } from "../../server/src/base/make-record.ts";
import type { NoteRecord } from "../../server/src/base/record.ts";
import { analyze } from "../../server/src/check/analyze.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { noShop } from "../../server/src/shop/read-shop.ts";
import { noteText, type ShortJob } from "./earlier-jobs.ts";

const shop = noShop(builtInProcedures);

/** The record of a note's text. */
export const recordOfText = (path: string, text: string): NoteRecord =>
  makeRecord(path, analyze(readNote(text, readYaml), shop), shop);

export const recordOf = (job: ShortJob): NoteRecord => recordOfText(`${job.job}.md`, noteText(job));
