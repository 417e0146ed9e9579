import { dirname, resolve } from "node:path";
import type { Point } from "../../base/columns.ts";
import { fromDisk } from "../../host/note-source.ts";
import type { DayMark } from "../../report/group-plot.ts";
import { NoteReader } from "../note-reader.ts";
import type { Outside } from "../outside.ts";

/**
 * The days on which the instruments of some values were calibrated, as the shop files of their notes say: a
 * step in the values at such a day is the instrument's, not the workshop's.
 */
export function calibrationMarks(
  points: readonly Point[],
  { folder, libraries }: Pick<Outside, "folder" | "libraries">,
): DayMark[] {
  const disk = fromDisk(libraries);
  const reader = new NoteReader(folder, libraries);
  const marks = new Map<string, DayMark>();
  for (const { note, instrument } of points) {
    if (instrument === undefined) continue;
    const shop = disk.shopFor(dirname(resolve(folder, note.path)));
    if (shop === undefined) continue;
    const known = reader.shop(shop).shop.instruments.get(instrument.toLowerCase());
    for (const day of known?.calibrations ?? []) {
      const who = known?.id ?? instrument;
      marks.set(`${who} ${day}`, { x: Date.parse(day), who, did: "calibrated" });
    }
  }
  return [...marks.values()];
}
