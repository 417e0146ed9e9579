import type { TokenKind } from "../ide/semantic-tokens.ts";

/** The protocol's name for each kind of token, so that every colour theme knows it. */
export const TOKEN_TYPES: Readonly<Record<TokenKind, string>> = {
  reading: "variable",
  column: "property",
  function: "function",
  argument: "parameter",
  number: "number",
  unit: "type",
  text: "string",
  truth: "keyword",
  instrument: "class",
  step: "event",
  place: "namespace",
  outcome: "enumMember",
  comment: "comment",
};

/** In the order of their bits. */
const TOKEN_MODIFIERS = ["declaration", "readonly"] as const;

export const TOKEN_LEGEND = {
  tokenTypes: Object.values(TOKEN_TYPES),
  tokenModifiers: [...TOKEN_MODIFIERS],
};
