/** A reader for the W3C's EBNF notation (XML 1.0, chapter 6), as far as grammar files here use it. */
export type Rule =
  | { readonly kind: "literal"; readonly text: string }
  | { readonly kind: "symbol"; readonly name: string }
  | {
      readonly kind: "class";
      readonly negated: boolean;
      readonly ranges: readonly (readonly [number, number])[];
    }
  | { readonly kind: "sequence" | "choice"; readonly parts: readonly Rule[] }
  | { readonly kind: "repeat"; readonly part: Rule; readonly sign: "?" | "*" | "+" }
  | { readonly kind: "except"; readonly part: Rule; readonly without: Rule };

const LEXEME =
  /\s+|\/\*[\s\S]*?\*\/|(?<arrow>::=)|(?<literal>'[^']*'|"[^"]*")|(?<set>\[(?:\\.|[^\]])*\])|(?<symbol>[A-Za-z][A-Za-z0-9_]*)|(?<sign>[|?*+()-])/y;

interface Lexeme {
  readonly kind: "arrow" | "literal" | "set" | "symbol" | "sign";
  readonly text: string;
}

function lexemes(source: string): Lexeme[] {
  const found: Lexeme[] = [];
  LEXEME.lastIndex = 0;
  while (LEXEME.lastIndex < source.length) {
    const at = LEXEME.lastIndex;
    const match = LEXEME.exec(source);
    if (!match) throw new Error(`not EBNF at ${at}: ${source.slice(at, at + 30)}`);
    for (const kind of ["arrow", "literal", "set", "symbol", "sign"] as const) {
      const text = match.groups?.[kind];
      if (text !== undefined) found.push({ kind, text });
    }
  }
  return found;
}

/** Rules by name, in the order of the file. Throws where the file is not EBNF. */
export function readEbnf(source: string): ReadonlyMap<string, Rule> {
  const all = lexemes(source);
  let at = 0;
  const peek = (text: string) => all[at]?.kind === "sign" && all[at]?.text === text;
  const startsRule = () => all[at]?.kind === "symbol" && all[at + 1]?.kind === "arrow";

  const choice = (): Rule => {
    const parts = [sequence()];
    while (peek("|")) {
      at++;
      parts.push(sequence());
    }
    return parts.length === 1 && parts[0] ? parts[0] : { kind: "choice", parts };
  };
  const sequence = (): Rule => {
    const parts: Rule[] = [];
    while (at < all.length && !peek("|") && !peek(")") && !startsRule()) parts.push(excepted());
    return parts.length === 1 && parts[0] ? parts[0] : { kind: "sequence", parts };
  };
  const excepted = (): Rule => {
    const part = repeated();
    if (!peek("-")) return part;
    at++;
    return { kind: "except", part, without: repeated() };
  };
  const repeated = (): Rule => {
    let part = single();
    for (;;) {
      const sign = (["?", "*", "+"] as const).find(peek);
      if (!sign) return part;
      at++;
      part = { kind: "repeat", part, sign };
    }
  };
  const single = (): Rule => {
    const lexeme = all[at++];
    if (lexeme?.kind === "literal") return { kind: "literal", text: lexeme.text.slice(1, -1) };
    if (lexeme?.kind === "symbol") return { kind: "symbol", name: lexeme.text };
    if (lexeme?.kind === "set") return readClass(lexeme.text);
    if (lexeme?.text === "(") {
      const inner = choice();
      if (!peek(")")) throw new Error(`bracket not closed at lexeme ${at}`);
      at++;
      return inner;
    }
    throw new Error(`unexpected ${lexeme?.text ?? "end"} at lexeme ${at - 1}`);
  };

  const rules = new Map<string, Rule>();
  while (at < all.length) {
    if (!startsRule()) throw new Error(`a rule was expected at lexeme ${at}: ${all[at]?.text}`);
    const name = all[at]?.text ?? "";
    at += 2;
    if (rules.has(name)) throw new Error(`${name} is defined twice`);
    rules.set(name, choice());
  }
  return rules;
}

function readClass(text: string): Rule {
  const inner = text.slice(1, -1);
  const negated = inner.startsWith("^");
  const characters: number[] = [];
  const dashes = new Set<number>();
  for (const match of inner.slice(negated ? 1 : 0).matchAll(/#x([0-9A-Fa-f]+)|([\s\S])/gu)) {
    if (match[2] === "-" && characters.length > 0) dashes.add(characters.length);
    characters.push(match[1] ? Number.parseInt(match[1], 16) : (match[2]?.codePointAt(0) ?? 0));
  }
  const ranges: [number, number][] = [];
  for (let i = 0; i < characters.length; i++) {
    const from = characters[i] ?? 0;
    const to = dashes.has(i + 1) ? characters[i + 2] : undefined;
    ranges.push([from, to ?? from]);
    if (to !== undefined) i += 2;
  }
  return { kind: "class", negated, ranges };
}

/** Every name that rules ask for and none defines. */
export function tokensOf(rules: ReadonlyMap<string, Rule>): readonly string[] {
  const asked = new Set<string>();
  const visit = (rule: Rule): void => {
    if (rule.kind === "symbol") asked.add(rule.name);
    else if (rule.kind === "sequence" || rule.kind === "choice") rule.parts.forEach(visit);
    else if (rule.kind === "repeat") visit(rule.part);
    else if (rule.kind === "except") {
      visit(rule.part);
      visit(rule.without);
    }
  };
  for (const rule of rules.values()) visit(rule);
  return [...asked].filter((name) => !rules.has(name));
}
