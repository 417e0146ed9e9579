import type { Random } from "./random.ts";

/** Plain workshop prose of an invented farm-and-fleet shop; it says nothing that a checker could judge. */
const SUBJECTS = [
  "The seam",
  "The lower corner",
  "The connector",
  "The hose",
  "The bracket",
  "The test lead",
  "The cover",
  "The breather",
  "The gasket",
  "The clamp",
] as const;
const VERBS = [
  "was looked at",
  "was wiped down",
  "sat tight",
  "had moved",
  "showed dust",
  "was marked",
] as const;
const WHERE = [
  "on the left side",
  "near the mounting bolt",
  "behind the panel",
  "under the bench light",
  "after the first wash",
  "before the tractor came in",
  "while the yard was wet",
  "at the end of the shift",
] as const;
const AFTER = [
  "so it stays on the list for the next service",
  "and the driver was told",
  "but nothing came of it",
  "and a picture was taken for the file",
  "so the part number was written on the shelf card",
] as const;

export function sentence(random: Random): string {
  const tail = random.next() < 0.4 ? `, ${random.pick(AFTER)}` : "";
  return `${random.pick(SUBJECTS)} ${random.pick(VERBS)} ${random.pick(WHERE)}${tail}.`;
}

/** A paragraph of so many lines, with a little emphasis and code here and there. */
export function paragraph(random: Random, lines: number): string[] {
  return Array.from({ length: lines }, () => {
    const text = sentence(random);
    const chance = random.next();
    if (chance < 0.06) return text.replace(/ (\w+)\.$/, " **$1**.");
    if (chance < 0.1) return text.replace(/^The (\w+)/, "The `$1`");
    return text;
  });
}
