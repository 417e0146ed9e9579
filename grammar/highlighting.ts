import { allUnitSpellings } from "../server/src/units/unit-choice.ts";
import {
  BLOCK_KINDS,
  CLAUSE_WORDS,
  FORMULA_WORDS,
  OPERATORS,
  OUTCOME_WORDS,
  SIGNS,
  TOKENS,
  TRUTH_WORDS,
} from "./line-language.ts";

/**
 * The TextMate grammar that colours our blocks inside markdown, made from the declared line language.
 * `node grammar/build-highlighting.mjs` writes it down; a test fails when the written file is stale.
 * It colours what is plain from the line itself; whether a name or unit is known is for the checker to say.
 */
export interface Rule {
  readonly name?: string;
  readonly contentName?: string;
  readonly match?: string;
  readonly begin?: string;
  readonly end?: string;
  readonly while?: string;
  readonly captures?: Captures;
  readonly beginCaptures?: Captures;
  readonly endCaptures?: Captures;
  readonly patterns?: readonly Rule[];
  readonly include?: string;
}
type Captures = Readonly<Record<string, { readonly name: string } | { readonly patterns: readonly Rule[] }>>;

export interface Grammar {
  readonly information_for_contributors: readonly string[];
  readonly name: string;
  readonly scopeName: string;
  readonly injectionSelector: string;
  readonly patterns: readonly Rule[];
  readonly repository: Readonly<Record<string, Rule>>;
}

const scope = (name: string): { name: string } => ({ name: `${name}.witness-mark` });
const include = (name: string): Rule => ({ include: `#${name}` });

/** Groups that are numbered in the reader stay unnumbered here, so that captures can be counted by eye. */
const unnumbered = (source: string): string =>
  source.replace(/\\.|\[(?:\\.|[^\]\\])*\]|\((?!\?)/g, (piece) => (piece === "(" ? "(?:" : piece));
const quoted = (text: string): string => text.replace(/[.*+?^${}()|[\]\\/-]/g, "\\$&");
const anyOf = (words: readonly string[]): string =>
  [...words]
    .sort((a, b) => b.length - a.length)
    .map(quoted)
    .join("|");

// ---- Pieces ---------------------------------------------------------------------------------------

const BLANK = "[ \\t]";
/** Start of a line's content, behind quote marks and list indentation. */
const START = `(?:^|\\G)${BLANK}*`;
const WORD_CHARACTER = "[\\p{L}\\p{M}\\p{N}_'’-]";
const WORD_END = `(?!${WORD_CHARACTER})`;
const WORD_START = `(?<!${WORD_CHARACTER})`;
const RESERVED = `(?!(?i:${anyOf(FORMULA_WORDS)})${WORD_END})`;

const NAME = `${TOKENS.word}(?:${BLANK}+${TOKENS.laterWord})*`;
const FORMULA_NAME = `${RESERVED}${TOKENS.word}(?:${BLANK}+${RESERVED}${TOKENS.laterWord})*`;
const NUMBER = `(?<![\\p{L}\\p{N}_.])(?:${unnumbered(TOKENS.fraction)}(?=${BLANK}*\\p{L})|${TOKENS.number})`;
const UNIT = `(?!(?i:${anyOf([...FORMULA_WORDS, ...CLAUSE_WORDS])})${WORD_END})${TOKENS.unit}`;
const TIME = unnumbered(TOKENS.time);
const DATE = unnumbered(TOKENS.date);
const DISPLAY_UNIT = `(?:${BLANK}*(\\[)${BLANK}*([^\\]]*?)${BLANK}*(\\]))?`;
const COMMENT = `(?<![^ \\t])#(?=[ \\t]|$)`;

const NAME_SCOPE = scope("variable.other.reading.definition");
const UNIT_SCOPE = scope("keyword.other.unit");
const BRACKET_OPEN = scope("punctuation.section.brackets.begin");
const BRACKET_CLOSE = scope("punctuation.section.brackets.end");
const NUMBER_SCOPE = scope("constant.numeric");
const CLAUSE_SCOPE = scope("keyword.other.clause");
const TIME_SCOPE = scope("constant.numeric.time");
const DATE_SCOPE = scope("constant.numeric.date");

const definition = (sign: string): string => `${START}(${NAME})${DISPLAY_UNIT}${BLANK}*(${sign})`;
const definitionCaptures = (sign: string): Captures => ({
  1: NAME_SCOPE,
  2: BRACKET_OPEN,
  3: UNIT_SCOPE,
  4: BRACKET_CLOSE,
  5: scope(sign),
});

const operatorSigns = OPERATORS.flatMap((row) =>
  Object.entries(row.spellings).flatMap(([meaning, others]) => [meaning, ...others]),
).filter((sign) => !/[a-z]/.test(sign));

const pieces: Readonly<Record<string, Rule>> = {
  comment: {
    begin: COMMENT,
    end: "$",
    ...scope("comment.line.number-sign"),
    patterns: [
      {
        match: `\\G#[ \\t]*(accept)[ \\t]+([a-z]+/[a-z-]+)`,
        captures: { 1: scope("keyword.other.accept"), 2: scope("entity.name.tag.rule") },
      },
    ],
  },
  quantity: {
    match: `(${NUMBER})(?:${BLANK}*(${UNIT}))?`,
    captures: { 1: NUMBER_SCOPE, 2: UNIT_SCOPE },
  },
  // A remark is prose: what stands behind a number there is a unit only when it is a known one.
  remarkQuantity: {
    match: `(${NUMBER})(?:${BLANK}*(${anyOf(allUnitSpellings())})(?![\\p{L}\\p{N}]))?`,
    captures: { 1: NUMBER_SCOPE, 2: UNIT_SCOPE },
  },
  tolerance: { match: anyOf(SIGNS.tolerance), ...scope("keyword.operator.tolerance") },
  truth: {
    match: `${WORD_START}(?i:${anyOf(Object.keys(TRUTH_WORDS))})${WORD_END}`,
    ...scope("constant.language"),
  },
  text: {
    begin: '"',
    end: '"|$',
    ...scope("string.quoted.double"),
  },
  separator: { match: ",", ...scope("punctuation.separator") },
  until: {
    match: `${WORD_START}(?i:(until))${BLANK}+(?:(${DATE})${BLANK}+)?(${TIME})`,
    captures: { 1: CLAUSE_SCOPE, 2: DATE_SCOPE, 3: TIME_SCOPE },
  },
};

// ---- Formulas -------------------------------------------------------------------------------------

const formula: Rule = {
  patterns: [
    include("comment"),
    include("text"),
    {
      begin: anyOf(SIGNS.recorded),
      end: `$|(?=${COMMENT})`,
      beginCaptures: { 0: scope("keyword.operator.recorded") },
      ...scope("meta.recorded-result"),
      patterns: [include("quantity")],
    },
    {
      match: `(${FORMULA_NAME})(?=${BLANK}*\\()`,
      captures: { 1: scope("entity.name.function") },
    },
    {
      match: `(${FORMULA_NAME})${BLANK}*(:)`,
      captures: { 1: scope("variable.parameter"), 2: scope("punctuation.separator.argument") },
    },
    {
      match: `${WORD_START}(?i:${anyOf(FORMULA_WORDS)})${WORD_END}`,
      ...scope("keyword.operator.word"),
    },
    include("quantity"),
    include("truth"),
    { match: FORMULA_NAME, ...scope("variable.other.reading") },
    include("tolerance"),
    { match: anyOf(operatorSigns), ...scope("keyword.operator") },
    { match: "\\(", ...scope("punctuation.section.parens.begin") },
    { match: "\\)", ...scope("punctuation.section.parens.end") },
    include("separator"),
  ],
};

// ---- Blocks ---------------------------------------------------------------------------------------

const measured: readonly Rule[] = [
  include("comment"),
  include("tolerance"),
  {
    match: `${WORD_START}(?i:(via))${BLANK}+(${NAME}?)(?=${BLANK}+at${BLANK}|${BLANK}*(?:${anyOf(SIGNS.tolerance)})|${BLANK}+#|${BLANK}*$)`,
    captures: { 1: CLAUSE_SCOPE, 2: scope("variable.other.constant.instrument") },
  },
  { match: `${WORD_START}(?i:(at))${BLANK}+(${TIME})`, captures: { 1: CLAUSE_SCOPE, 2: TIME_SCOPE } },
  include("truth"),
  { match: "[-−–](?=[0-9.])", ...scope("keyword.operator") },
  include("quantity"),
  include("separator"),
];

const readings: Rule = {
  patterns: [
    include("comment"),
    {
      // A value that starts with a letter is text to the line's end.
      match: `${definition(":")}${BLANK}*(?!(?i:${anyOf(Object.keys(TRUTH_WORDS))})${BLANK}*(?:#|$))(\\p{L}.*?)(?:${BLANK}+(#(?:[ \\t].*)?))?$`,
      captures: {
        ...definitionCaptures("punctuation.separator.measured"),
        6: scope("string.unquoted"),
        7: scope("comment.line.number-sign"),
      },
    },
    {
      begin: definition(":"),
      end: "$",
      beginCaptures: definitionCaptures("punctuation.separator.measured"),
      patterns: measured,
    },
    {
      begin: definition("=(?!=)"),
      end: "$",
      beginCaptures: definitionCaptures("keyword.operator.definition"),
      patterns: [include("formula")],
    },
  ],
};

const series: Rule = {
  patterns: [
    include("comment"),
    {
      match: `${START}(from|skip|separator|decimal|columns)${BLANK}*(:)${BLANK}*(.*?)${BLANK}*(?=${COMMENT}|$)`,
      captures: {
        1: scope("keyword.other.option"),
        2: scope("punctuation.separator"),
        3: scope("string.unquoted"),
      },
    },
    {
      match: `(${NAME})${DISPLAY_UNIT}(?=${BLANK}*(?:,|$|${COMMENT}))`,
      captures: { 1: NAME_SCOPE, 2: BRACKET_OPEN, 3: UNIT_SCOPE, 4: BRACKET_CLOSE },
    },
    { match: `[-−]?${NUMBER}`, ...NUMBER_SCOPE },
    include("separator"),
  ],
};

const limits: Rule = {
  patterns: [
    {
      begin: `${WORD_START}(?i:(source))${BLANK}*(:)${BLANK}*`,
      end: `$|(?=${COMMENT})`,
      beginCaptures: { 1: CLAUSE_SCOPE, 2: scope("punctuation.separator") },
      contentName: "string.unquoted.witness-mark",
    },
    {
      match: "(\\()(?i:(acceptance))(\\))",
      captures: {
        1: scope("punctuation.section.parens.begin"),
        2: CLAUSE_SCOPE,
        3: scope("punctuation.section.parens.end"),
      },
    },
    include("formula"),
  ],
};

const steps: Rule = {
  patterns: [
    include("comment"),
    { match: `${START}(${DATE})`, captures: { 1: DATE_SCOPE } },
    {
      begin: `${START}(?:(${quoted(TOKENS.toDo)})|(${TIME}))(?=${BLANK}|$)`,
      end: "$",
      beginCaptures: { 1: scope("constant.language.to-do"), 2: TIME_SCOPE },
      patterns: [
        include("comment"),
        {
          begin: ":",
          end: "$",
          beginCaptures: { 0: scope("punctuation.separator.remark") },
          patterns: [
            include("comment"),
            {
              match: `\\G${BLANK}*(?i:(${anyOf(OUTCOME_WORDS)}))${WORD_END}`,
              captures: { 1: scope("constant.language.outcome") },
            },
            include("until"),
            include("remarkQuantity"),
          ],
        },
        {
          match: `(\\[)([^\\]]*)(\\])`,
          captures: { 1: BRACKET_OPEN, 2: scope("entity.name.label.place"), 3: BRACKET_CLOSE },
        },
        { match: `[^ \\t:\\[#][^:\\[#]*?(?=${BLANK}*(?:[:\\[#]|$))`, ...scope("entity.name.type.step") },
      ],
    },
  ],
};

/** A fence as markdown's own grammar writes it, so that themes and folding treat ours alike. */
const block = (kind: string): Rule => ({
  begin: `(^|\\G)(\\s*)(\`{3,}|~{3,})[ \\t]*(${kind})(?=[ \\t]|$)([^\`\\n]*)$`,
  end: "(^|\\G)(\\2|\\s{0,3})(\\3[`~]*)\\s*$",
  name: "markup.fenced_code.block.markdown",
  beginCaptures: {
    3: { name: "punctuation.definition.markdown" },
    4: { name: "fenced_code.block.language.markdown" },
    5: { name: "fenced_code.block.language.attributes.markdown" },
  },
  endCaptures: { 3: { name: "punctuation.definition.markdown" } },
  patterns: [
    {
      begin: "(^|\\G)(\\s*)(.*)",
      while: "(^|\\G)(?!\\s*([`~]{3,})\\s*$)",
      contentName: "meta.embedded.block.witness-mark",
      patterns: [include(kind)],
    },
  ],
});

export const injectionGrammar: Grammar = {
  information_for_contributors: [
    "Made from grammar/line-language.ts by `node grammar/build-highlighting.mjs`. Change it there.",
  ],
  name: "Witness Mark blocks in markdown",
  scopeName: "markdown.witness-mark.codeblock",
  // Inside other fences a note only talks about our blocks.
  injectionSelector: "L:text.html.markdown - markup.fenced_code",
  patterns: BLOCK_KINDS.map((kind) => block(kind)),
  repository: { ...pieces, formula, readings, series, limits, steps },
};
