import * as z from "zod/mini";
import type { YamlEntry, YamlMap } from "../note/yaml-tree.ts";
import { type Dimension, LENGTH, NONE, TEMPERATURE, TIME, VOLUME } from "../units/dimension.ts";
import { asPoint, asWidth, fits, type Piece, part, type Report, readQuantity } from "./piece.ts";
import { checkForm, entryRange, optionalText, textAt } from "./section.ts";
import type { Material } from "./shop.ts";

const text = z.string().check(z.minLength(1));
const materialSchema = z.strictObject({
  description: z.optional(text),
  kind: z.optional(text),
  skin: z.optional(text),
  cure: z.optional(text),
  tube: z.optional(text),
  source: z.optional(text),
});

/** Reads one material; what cannot be read in it is reported and left out. */
export function readMaterial(entry: YamlEntry, report: Report): Material | undefined {
  const what = `the material \`${entry.key}\``;
  const map = checkForm(entry.value, materialSchema, what, entry.keyRange, report);
  if (!map) return undefined;
  const skinTime = width(map, "skin", TIME, what, report);
  const tubeVolume = width(map, "tube", VOLUME, what, report);
  const cureText = textAt(map, "cure");
  const cure = cureText ? readCure(cureText, report) : undefined;
  return {
    id: entry.key,
    ...optionalText(map, "description"),
    ...optionalText(map, "kind"),
    ...(skinTime ? { skinTime } : {}),
    ...(cure ? { cure } : {}),
    ...(tubeVolume ? { tubeVolume } : {}),
    ...optionalText(map, "source"),
    range: entryRange(entry),
  };
}

function width(
  map: YamlMap,
  key: string,
  wanted: Dimension,
  what: string,
  report: Report,
): number | undefined {
  const piece = textAt(map, key);
  return piece && positive(piece, wanted, `\`${key}\` of ${what}`, report);
}

function positive(piece: Piece, wanted: Dimension, what: string, report: Report): number | undefined {
  const quantity = readQuantity(piece, report);
  if (!quantity || !fits(quantity, wanted, what, report)) return undefined;
  if (quantity.number > 0) return asWidth(quantity);
  report(
    piece.range,
    `${what} must be more than nothing.`,
    "Take the figure from the material's data sheet.",
  );
  return undefined;
}

/** `3 mm in 24 h at 23 degC and 50 %`: one point of the data sheet; temperature and humidity may be left out. */
function readCure(piece: Piece, report: Report): Material["cure"] {
  const words = /^(.+?)\s+in\s+(.+?)(?:\s+at\s+(.+?)(?:(?:\s+and\s+|,\s*)(.+))?)?$/d.exec(piece.text);
  const spans = words?.indices;
  if (!words || !spans) {
    const advice = "Write depth, time and conditions of the data sheet: 3 mm in 24 h at 23 degC and 50 %.";
    report(piece.range, `\`${piece.text}\` does not say what depth cures in what time.`, advice);
    return undefined;
  }
  const group = (index: number): Piece | undefined => {
    const span = spans[index];
    return span ? part(piece, span[0], span[1]) : undefined;
  };
  const [depthText, timeText, temperatureText, humidityText] = [group(1), group(2), group(3), group(4)];
  const depth = depthText && positive(depthText, LENGTH, "The depth", report);
  const time = timeText && positive(timeText, TIME, "The time", report);
  const warm = temperatureText && readQuantity(temperatureText, report);
  const damp = humidityText && readQuantity(humidityText, report);
  if (depth === undefined || time === undefined) return undefined;
  return {
    depth,
    time,
    ...(warm && fits(warm, TEMPERATURE, "The curing temperature", report)
      ? { temperature: asPoint(warm) }
      : {}),
    ...(damp && fits(damp, NONE, "The curing humidity", report) ? { humidity: asPoint(damp) } : {}),
  };
}
