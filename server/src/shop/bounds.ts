import type { Unit } from "../units/unit.ts";
import { asPoint, fits, type Piece, part, type Report, readQuantity } from "./piece.ts";
import type { Bounds } from "./shop.ts";

const BETWEEN = /^(?:from\s+)?(.+?)\s+to\s+(.+)$/;
const LEAST = /^(?:at least|above|over)\s+(.+)$/;
const MOST = /^(?:at most|up to|below|under)\s+(.+)$/;

/**
 * `3 to 20 km/h`, `at least 3 km/h`, `at most 20 km/h`: between which values something holds. Reported, and
 * undefined, where it cannot be read or is of another kind than `unit`.
 */
export function readBounds(piece: Piece, unit: Unit, what: string, report: Report): Bounds | undefined {
  const between = BETWEEN.exec(piece.text);
  const least = between ? null : LEAST.exec(piece.text);
  const most = between || least ? null : MOST.exec(piece.text);
  const lowText = between?.[1] ?? least?.[1];
  const highText = between?.[2] ?? most?.[1];
  if (lowText === undefined && highText === undefined) {
    report(
      piece.range,
      `\`${piece.text}\` is no range.`,
      "Write both ends with `to` between, as in 3 to 20 km/h, or one end as `at least 3 km/h` or `at most 20 km/h`.",
    );
    return undefined;
  }
  const high = highText === undefined ? undefined : end(piece, highText, true, unit, what, report);
  const low =
    lowText === undefined ? undefined : end(piece, lowText, false, high?.unit ?? unit, what, report);
  if ((highText !== undefined && !high) || (lowText !== undefined && !low)) return undefined;
  if (low && high && asPoint(low) >= asPoint(high)) {
    report(piece.range, "The range's lower end is not below its upper end.", "Write the lower end first.");
    return undefined;
  }
  return {
    ...(low ? { low: asPoint(low) } : {}),
    ...(high ? { high: asPoint(high) } : {}),
    says: piece.text,
  };
}

function end(piece: Piece, text: string, last: boolean, unit: Unit, what: string, report: Report) {
  const from = last ? piece.text.length - text.length : piece.text.indexOf(text);
  const quantity = readQuantity(part(piece, from, from + text.length), report, unit);
  if (!quantity || !fits(quantity, unit.dimension, what, report)) return undefined;
  if (quantity.unit.scale === unit.scale || quantity.unit.scale === "kelvin") return quantity;
  report(
    quantity.at.range,
    `${what} and \`${quantity.at.text}\` are not counted from the same zero.`,
    "Write both alike: gauge or absolute pressure, temperature or difference.",
  );
  return undefined;
}
