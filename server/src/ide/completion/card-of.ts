import type { Note } from "../../note/note.ts";
import { findStep } from "../../procedures/procedure.ts";
import type { Shop } from "../../shop/shop.ts";
import { readUnit } from "../../units/unit-reader.ts";
import type { Card } from "../card.ts";
import { functionCard, instrumentCard, procedureCard, stepCard, unitCard } from "../cards.ts";
import { functionNamed, procedureOf } from "../look-up.ts";
import type { CompletionKind } from "./place.ts";
import { seriesOptionCard } from "./series-options.ts";

/** What to tell of a completion that somebody looks at, by its kind and what it is about. */
export function cardOf(note: Note, shop: Shop, kind: CompletionKind, about: string): Card | undefined {
  const procedure = procedureOf(note, shop);
  switch (kind) {
    case "function": {
      const found = functionNamed(about, shop);
      return found && functionCard(found);
    }
    case "unit": {
      const reading = readUnit(about, shop.units);
      return reading.ok ? unitCard(reading.unit) : undefined;
    }
    case "instrument": {
      const instrument = shop.instruments.get(about.toLowerCase());
      return instrument && instrumentCard(instrument);
    }
    case "step": {
      const found = procedure && findStep(procedure, about);
      return procedure && found?.ok ? stepCard(found.step, procedure) : undefined;
    }
    case "expected reading": {
      const reading = procedure?.readings.find(({ name }) => name === about);
      return reading && { title: reading.name, parts: [{ kind: "says", text: reading.why }] };
    }
    case "value": {
      const named = shop.procedures.get(about);
      return named && procedureCard(named);
    }
    case "option":
      return seriesOptionCard(about);
    default:
      return undefined;
  }
}
