import { existsSync } from "node:fs";
import type { LogReading, LogRequest } from "../note/series-log.ts";
import type { Libraries } from "./libraries.ts";
import { ShopFinder } from "./nearest-shop.ts";
import { readText, type TextReading } from "./read-text.ts";

/** Where notes and what belongs to them are taken from: the disk, git's index, or a revision. Paths are absolute. */
export interface NoteSource {
  read(path: string): TextReading;
  exists(path: string): boolean;
  /** Path of the shop file for notes in a folder. */
  shopFor(folder: string): string | undefined;
  log(request: LogRequest, folder: string, root: string): LogReading;
}

/** The files as they lie on the disk. */
export function fromDisk({ logs }: Pick<Libraries, "logs">): NoteSource {
  const shops = new ShopFinder();
  return {
    read: readText,
    exists: existsSync,
    shopFor: (folder) => shops.find(folder),
    log: (request, folder, root) => logs(request, folder, root),
  };
}
