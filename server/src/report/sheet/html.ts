/** A piece of HTML whose texts are escaped already. Only `html` makes one, so nothing can be forgotten. */
export class Html {
  constructor(readonly text: string) {}

  toString(): string {
    return this.text;
  }
}

type Piece = Html | string | number | undefined | readonly (Html | string)[];

const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Most pieces hold nothing to escape, and looking is quicker than replacing. */
const NEEDS_ESCAPE = /[&<>"']/;

export const escapeHtml = (text: string): string =>
  NEEDS_ESCAPE.test(text) ? text.replace(/[&<>"']/g, (c) => ESCAPES[c] ?? c) : text;

/** A template whose inserted texts are escaped; pieces of HTML pass, and `undefined` leaves nothing. */
export function html(strings: TemplateStringsArray, ...pieces: readonly Piece[]): Html {
  let out = strings[0] ?? "";
  for (let i = 0; i < pieces.length; i++) out += textOf(pieces[i]) + (strings[i + 1] ?? "");
  return new Html(out);
}

function textOf(piece: Piece): string {
  if (piece === undefined) return "";
  if (piece instanceof Html) return piece.text;
  if (typeof piece === "string") return escapeHtml(piece);
  if (typeof piece === "number") return String(piece);
  let out = "";
  for (const part of piece) out += textOf(part);
  return out;
}

/** Keeps backquoted words of a message as code; all else is plain text. */
export function sentence(text: string): Html {
  const pieces = text.split(/`([^`\n]+)`/);
  return html`${pieces.map((piece, i) => (i % 2 === 1 ? html`<code>${piece}</code>` : piece))}`;
}

/** A true minus sign is easier to see than a hyphen. */
export const minus = (text: string): string => text.replace(/(^|\s)-(?=\d)/g, "$1−");
