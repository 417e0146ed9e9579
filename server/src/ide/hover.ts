import type { Analysis, NamedValue } from "../analysis/analysis.ts";
import type { Range } from "../note/note.ts";
import { findStep } from "../procedures/procedure.ts";
import type { Shop } from "../shop/shop.ts";
import { readUnit } from "../units/unit-reader.ts";
import type { Card } from "./card.ts";
import { functionCard, instrumentCard, procedureCard, stepCard, unitCard, workingCard } from "./cards.ts";
import { lineOf, locate } from "./locate.ts";
import { fieldAt, functionNamed, procedureOf, valueOfKey } from "./look-up.ts";
import { mentionAt } from "./mentions.ts";

export interface Hovered {
  readonly range: Range;
  readonly card: Card;
}

/**
 * What to say about the place under the pointer: a name shows the working behind its value; units,
 * functions, instruments, steps and the procedure say what they are.
 */
export function hover(analysis: Analysis, shop: Shop, offset: number): Hovered | undefined {
  const { note } = analysis;
  if (note.frontMatter.range.from <= offset && offset <= note.frontMatter.range.to) {
    const field = fieldAt(note, offset);
    const procedure = field?.key === "procedure" ? procedureOf(note, shop) : undefined;
    return field && procedure && { range: field.range, card: procedureCard(procedure) };
  }
  const line = lineOf(note, offset);
  if (!line) return undefined;

  const place = locate(note, offset);
  switch (place?.kind) {
    case "unit": {
      const reading = readUnit(place.text, shop.units);
      return reading.ok ? { range: place.range, card: unitCard(reading.unit) } : undefined;
    }
    case "function": {
      const found = functionNamed(place.name.key, shop);
      return found && { range: place.range, card: functionCard(found) };
    }
    case "instrument": {
      const instrument = shop.instruments.get(place.name.text) ?? shop.instruments.get(place.name.key);
      return instrument && { range: place.range, card: instrumentCard(instrument) };
    }
    case "step": {
      const procedure = procedureOf(note, shop);
      const found = procedure && findStep(procedure, place.name.text);
      return procedure && found?.ok
        ? { range: place.range, card: stepCard(found.step, procedure) }
        : undefined;
    }
  }
  const use = mentionAt(analysis, offset);
  const value = use?.kind === "reading" ? valueOfKey(analysis, use.key) : undefined;
  return use && value && { range: use.range, card: valueCard(analysis, value) };
}

/** The card of one value; also the tooltip of its hint. */
export function valueCard(analysis: Analysis, value: NamedValue): Card {
  return workingCard(value, analysis.working(value));
}
