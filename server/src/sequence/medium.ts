import type { MediumRule } from "../procedures/procedure-schema.ts";
import type { StepEvent } from "./events.ts";
import { type Grounds, readingsNamed } from "./grounds.ts";
import { firstSaid, saysOneOf } from "./words.ts";

/** What a text says of the medium. `unsaid`: it names none that the procedure knows. */
export type MediumSaid = "allowed" | "forbidden" | "unsaid";

/** The medium that a text names. What is forbidden wins, so that a mixture cannot pass. */
export function mediumNamed(text: string, { procedure }: Pick<Grounds, "procedure">): MediumSaid {
  const rule = procedure.medium;
  if (!rule) return "unsaid";
  if (forbiddenIn(text, rule) !== undefined) return "forbidden";
  return rule.allowed && saysOneOf(text, rule.allowed) ? "allowed" : "unsaid";
}

/** The first medium of a text that may not be used, as the procedure calls it. */
export const forbiddenIn = (text: string, rule: MediumRule): string | undefined => {
  const plain = withoutDenials(text);
  return saysOneOf(plain, rule.forbidden) ? firstSaid(plain, rule.forbidden) : undefined;
};

/** "nitrogen, no shop air" names nitrogen only. */
const withoutDenials = (text: string): string =>
  text.replace(
    /\b(?:no|not|never|without|instead of|free of)\s+(?:with\s+)?(?:shop\s+|compressed\s+)?[\p{L}\p{N}]+/giu,
    "",
  );

/** What stands behind an event: its own remark, else the note's reading of the medium. */
export function mediumIn(event: StepEvent, grounds: Grounds): MediumSaid {
  const own = mediumNamed(event.remark, grounds);
  if (own !== "unsaid") return own;
  for (const { result } of readingsNamed("medium", grounds)) {
    if (result === undefined) return "allowed";
    if (result.kind !== "text") continue;
    const said = mediumNamed(result.text, grounds);
    if (said !== "unsaid") return said;
  }
  return "unsaid";
}
