/**
 * What a hover or a tooltip says, before any editor's markup. A card is a title and paragraphs; the same card
 * can be written as markdown or as plain text.
 */
export interface Card {
  readonly title: string;
  readonly parts: readonly CardPart[];
}

export type CardPart =
  /** A sentence or more. */
  | { readonly kind: "says"; readonly text: string }
  /** Lines shown with the note's own spacing. */
  | { readonly kind: "lines"; readonly lines: readonly string[] }
  /** A heading with items under it; left out where there are none. */
  | { readonly kind: "list"; readonly heading: string; readonly items: readonly string[] };

export const says = (text: string): CardPart => ({ kind: "says", text });
export const list = (heading: string, items: readonly string[]): CardPart => ({
  kind: "list",
  heading,
  items,
});

export function cardAsMarkdown(card: Card): string {
  const paragraphs = [`**${escapeMarkdown(card.title)}**`];
  for (const part of card.parts) {
    if (part.kind === "says") paragraphs.push(escapeMarkdown(part.text));
    else if (part.kind === "lines") paragraphs.push(fenced(part.lines));
    else if (part.items.length === 1)
      paragraphs.push(`*${part.heading}:* ${escapeMarkdown(part.items[0] ?? "")}`);
    else if (part.items.length > 1) {
      const items = part.items.map((item) => `- ${escapeMarkdown(item)}`);
      paragraphs.push(`*${part.heading}:*\n${items.join("\n")}`);
    }
  }
  return paragraphs.join("\n\n");
}

export function cardAsText(card: Card): string {
  const paragraphs = [card.title];
  for (const part of card.parts) {
    if (part.kind === "says") paragraphs.push(part.text);
    else if (part.kind === "lines") paragraphs.push(part.lines.map((line) => `  ${line}`).join("\n"));
    else if (part.items.length === 1) paragraphs.push(`${part.heading}: ${part.items[0] ?? ""}`);
    else if (part.items.length > 1) {
      paragraphs.push([`${part.heading}:`, ...part.items.map((item) => `- ${item}`)].join("\n"));
    }
  }
  return paragraphs.join("\n\n");
}

/** A fence longer than any run of backticks in the lines, so that no text of a note can end it. */
function fenced(lines: readonly string[]): string {
  const text = lines.join("\n");
  const longest = Math.max(0, ...(text.match(/`+/g) ?? []).map((run) => run.length));
  const fence = "`".repeat(Math.max(3, longest + 1));
  return `${fence}text\n${text}\n${fence}`;
}

/** Keeps backticked pieces as code and takes the meaning from every other character that has one. */
function escapeMarkdown(text: string): string {
  return text
    .split(/(`[^`\n]+`)/)
    .map((piece, i) => (i % 2 === 1 ? piece : piece.replace(/[\\*_[\]<>#|~`]/g, "\\$&")))
    .join("");
}
