import * as z from "zod/mini";
import type { YamlEntry, YamlMap, YamlNode, YamlReader } from "../note/yaml-tree.ts";
import { HIGHEST_ALTITUDE, LOWEST_ALTITUDE } from "../physics/atmosphere.ts";
import type { Procedure } from "../procedures/procedure.ts";
import { LENGTH } from "../units/dimension.ts";
import { asPoint, fits, type Report, readQuantity, reportInto } from "./piece.ts";
import { readFormulas, type TryFormula } from "./read-formulas.ts";
import { readInstrument } from "./read-instrument.ts";
import { readLimit } from "./read-limit.ts";
import { readMaterial } from "./read-material.ts";
import { readProcedure } from "./read-procedure.ts";
import { readUnits } from "./read-units.ts";
import { checkForm, textAt, valueAt } from "./section.ts";
import type { Instrument, Material, Shop, ShopProblem } from "./shop.ts";

const shopSchema = z.strictObject({
  altitude: z.optional(z.string()),
  instruments: z.optional(z.unknown()),
  materials: z.optional(z.unknown()),
  limits: z.optional(z.unknown()),
  procedures: z.optional(z.unknown()),
  units: z.optional(z.unknown()),
  formulas: z.optional(z.unknown()),
});

/** The shop of notes that have no shop file. */
export function noShop(builtIn: readonly Procedure[]): Shop {
  return {
    present: false,
    instruments: new Map(),
    materials: new Map(),
    limits: [],
    procedures: byId(builtIn),
    units: undefined,
    unitPlaces: new Map(),
    formulas: new Map(),
    problems: [],
  };
}

/**
 * Reads a shop file. Never fails: what cannot be read is reported where it stands and left out.
 *
 * @param yaml the full YAML reader
 * @param builtIn procedures that the shop's own are laid over, by id
 * @param tryFormula holds a formula of the shop's own against the units that it takes and gives
 */
export function readShopFile(
  text: string,
  yaml: YamlReader,
  builtIn: readonly Procedure[],
  tryFormula: TryFormula,
): Shop {
  const start = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  const { tree, problems: broken } = yaml(text.slice(start), start);
  const problems: ShopProblem[] = [...broken];
  const none = noShop(builtIn);
  const shop = tree?.kind === "map" ? readSections(tree, none, problems, tryFormula) : none;
  // From the first mistake in the YAML on, the tree is a guess; what it says there is not told twice.
  const firstBroken = broken[0]?.range.from ?? Number.POSITIVE_INFINITY;
  const kept = problems.filter((p) => broken.includes(p) || (p.within ?? p.range).to <= firstBroken);
  kept.sort((a, b) => a.range.from - b.range.from);
  return { ...shop, present: true, problems: kept };
}

function readSections(tree: YamlMap, none: Shop, problems: ShopProblem[], tryFormula: TryFormula): Shop {
  const plain = reportInto(problems);
  checkForm(tree, shopSchema, "the shop file", tree.range, plain);
  // Units first: every value of the other sections may be written in one.
  const { units, places } = readUnits(entriesAt(tree, "units", plain), plain);
  const report = reportInto(problems, units);
  const procedures = new Map(none.procedures);
  for (const node of itemsAt(tree, "procedures", report)) {
    const procedure = readProcedure(node, none.procedures, report);
    if (procedure) procedures.set(procedure.id, procedure);
  }
  const altitude = readAltitude(tree, report);
  const around = {
    units,
    materials: collect(tree, "materials", readMaterial, report) satisfies ReadonlyMap<string, Material>,
    ...(altitude === undefined ? {} : { altitude }),
  };
  const written = collect(tree, "formulas", (entry) => entry, report);
  return {
    ...none,
    ...around,
    instruments: collect(tree, "instruments", readInstrument, report) satisfies ReadonlyMap<
      string,
      Instrument
    >,
    limits: itemsAt(tree, "limits", report).flatMap((node) => readLimit(node, procedures, report) ?? []),
    procedures,
    unitPlaces: places,
    formulas: readFormulas([...written], around, tryFormula, report),
  };
}

const byId = (procedures: readonly Procedure[]): Map<string, Procedure> =>
  new Map(procedures.map((procedure) => [procedure.id, procedure]));

/** Named things, by name in lower case, as notes compare names. */
function collect<T>(
  tree: YamlMap,
  key: string,
  read: (entry: YamlEntry, report: Report) => T | undefined,
  report: Report,
): Map<string, T> {
  const found = new Map<string, T>();
  const seen = new Set<string>();
  for (const entry of entriesAt(tree, key, report)) {
    const name = entry.key.toLowerCase().replace(/\s+/g, " ").trim();
    if (seen.has(name)) {
      report(
        entry.keyRange,
        `\`${entry.key}\` is there already; capitals make no difference.`,
        "Give one of them another name.",
      );
      continue;
    }
    seen.add(name);
    const made = read(entry, report);
    if (made !== undefined) found.set(name, made);
  }
  return found;
}

function entriesAt(tree: YamlMap, key: string, report: Report): readonly YamlEntry[] {
  const section = valueAt(tree, key);
  if (section === undefined) return [];
  if (section.kind === "map") return section.entries;
  const advice = `Below \`${key}:\`, start a line for each with its name and a colon.`;
  report(section.range, `\`${key}\` takes names, each with keys of its own.`, advice);
  return [];
}

function itemsAt(tree: YamlMap, key: string, report: Report): readonly YamlNode[] {
  const section = valueAt(tree, key);
  if (section === undefined) return [];
  if (section.kind === "list") return section.items;
  report(section.range, `\`${key}\` takes a list.`, "Start each item with a dash and a blank.");
  return [];
}

function readAltitude(tree: YamlMap, report: Report): number | undefined {
  const piece = textAt(tree, "altitude");
  const quantity = piece && readQuantity(piece, report);
  if (!quantity || !fits(quantity, LENGTH, "The altitude", report)) return undefined;
  const metres = asPoint(quantity);
  if (metres >= LOWEST_ALTITUDE && metres <= HIGHEST_ALTITUDE) return metres;
  report(
    quantity.at.range,
    "No workshop stands at this altitude.",
    "Write the height above sea level, such as 240 m.",
  );
  return undefined;
}
