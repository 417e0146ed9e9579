import type { Note } from "../note/note.ts";
import { filePartOf } from "../note/prose-links.ts";
import { logOptions } from "../note/series-log.ts";
import { addressKey, folderOf } from "./addresses.ts";

/** Keys of the other files that count for a note: those it links to, and the logs it takes rows from. */
export function linkedKeys(uri: string, note: Note): string[] {
  const keys = new Set<string>();
  const folder = addressKey(folderOf(uri));
  const take = (target: string): void => {
    const path = filePartOf(target);
    if (path !== undefined && !path.startsWith("/")) keys.add(beside(folder, path));
  };
  for (const { target } of note.links) take(target);
  for (const block of note.blocks) {
    const request = block.kind === "series" ? logOptions(block).request : undefined;
    if (request) take(request.path);
  }
  return [...keys];
}

function beside(folder: string, path: string): string {
  const parts = folder.split("/");
  for (const part of path.split("/")) {
    if (part === "..") parts.pop();
    else if (part !== "." && part !== "") parts.push(part);
  }
  return parts.join("/");
}
