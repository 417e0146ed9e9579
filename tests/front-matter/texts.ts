import fc from "fast-check";

/** Front matters as technicians write them, with everything that the note format allows now and then. */

const KEYS = [
  "job",
  "procedure",
  "subject",
  "vehicle",
  "customer",
  "complaint",
  "cause",
  "correction",
  "by",
  "reviewed by",
  "date",
  "status",
  "outcome",
  "comeback of",
  "x-bay",
];

const word = fc.constantFrom(
  "lens",
  "left",
  "12.5",
  "007",
  "41 200",
  "km",
  "2031-0042",
  "2031-03-04",
  "0.80 psi",
  "19.5 °C",
  "naß",
  "😀",
  "10:30",
  "#3",
  "a:b",
  "(rear)",
  "it's",
  "A/C",
  "true",
  "null",
  "~",
  "5.",
  "1e3",
  "0x1F",
  "-",
  "50%",
  "=",
  "&",
);
const words = fc.array(word, { minLength: 1, maxLength: 5 }).map((ws) => ws.join(" "));
const oddText = fc.oneof(
  { weight: 8, arbitrary: words },
  { weight: 1, arbitrary: fc.string({ unit: "grapheme", maxLength: 12 }) },
  { weight: 1, arbitrary: fc.string({ maxLength: 12 }) },
);
const padding = fc.constantFrom("", "", "", " ", "  ");
const comment = fc.constantFrom("", "", "", "", " # why", "  # é", " #", "#no", " \t", "\t# tab", "\u3000");

const flowMap = fc
  .array(fc.tuple(fc.constantFrom("description", "year", "odometer", "vin", "plate"), oddText), {
    minLength: 1,
    maxLength: 4,
  })
  .chain((pairs) => padding.map((p) => `{${p}${pairs.map(([k, v]) => `${k}: ${v}`).join(`${p}, `)}${p}}`));
const flowList = fc.array(oddText, { minLength: 0, maxLength: 4 }).map((items) => `[${items.join(", ")}]`);
const quoted = fc.tuple(fc.constantFrom('"', "'"), oddText).map(([q, text]) => `${q}${text}${q}`);
const value = fc.oneof(
  { weight: 6, arbitrary: oddText },
  { weight: 1, arbitrary: quoted },
  { weight: 2, arbitrary: flowMap },
  { weight: 1, arbitrary: flowList },
  { weight: 1, arbitrary: fc.constantFrom("", "|", ">", "&a x", "*a", "!t x", "- x", "? x", "@x") },
);

const line = fc
  .tuple(fc.constantFrom(...KEYS), fc.constantFrom(": ", ": ", ": ", ":  ", ":", " : "), value, comment)
  .map((parts) => parts.join(""));
const block = fc
  .tuple(
    fc.constantFrom(...KEYS),
    fc.constantFrom("  ", " ", "    "),
    fc.array(line, { minLength: 1, maxLength: 3 }),
    comment,
  )
  .map(([key, indent, lines, c]) => [`${key}:${c}`, ...lines.map((l) => indent + l)].join("\n"));
const other = fc.constantFrom(
  "",
  "# note",
  "  # set in",
  "   ",
  "---",
  "...",
  "- item",
  "text",
  "\tx: 1",
  "%x",
);

/** Lines of front matter, most of them well formed. */
export const frontMatterText = fc
  .tuple(
    fc.array(
      fc.oneof(
        { weight: 12, arbitrary: line },
        { weight: 2, arbitrary: block },
        { weight: 1, arbitrary: other },
      ),
      { maxLength: 9 },
    ),
    fc.constantFrom("\n", "\n", "\r\n"),
    fc.boolean(),
  )
  .map(([lines, end, last]) => lines.join("\n").replaceAll("\n", end) + (last ? end : ""));

/** A front matter of the common form, of which the quick reader should decline none. */
const tame = fc
  .array(
    fc.constantFrom("lens", "wet", "19.5 °C", "(rear)", "two breathers,", "2 of 2", "it's", "A/C", "10:30"),
    { minLength: 1, maxLength: 6 },
  )
  .map((ws) => ws.join(" "));
export const commonText = fc
  .tuple(
    fc.uniqueArray(fc.constantFrom(...KEYS), { minLength: 1, maxLength: 10 }),
    fc.array(tame, { minLength: 10, maxLength: 10 }),
    fc.constantFrom("\n", "\r\n"),
  )
  .map(([keys, values, end]) =>
    keys
      .map((key, i) =>
        key === "vehicle"
          ? "vehicle: { description: farm utility, year: 2024 }  # ours"
          : `${key}: ${values[i]}`,
      )
      .map((l) => l + end)
      .join(""),
  );

/** A text with a few characters put in, taken out or doubled, at random. */
export const mutated = (texts: fc.Arbitrary<string>): fc.Arbitrary<string> =>
  fc
    .tuple(
      texts,
      fc.array(
        fc.tuple(
          fc.nat({ max: 400 }),
          fc.nat({ max: 3 }),
          fc.constantFrom(
            ..."\t \n\r:#,-?[]{}'\"|>&*!%@`\\~.0eé\u00a0\u2028\ufeff\u0085\u0000",
            ": ",
            " #",
            "\n  ",
            "\n---\n",
          ),
        ),
        { minLength: 1, maxLength: 3 },
      ),
    )
    .map(([text, edits]) => {
      let result = text;
      for (const [at, remove, insert] of edits) {
        const place = result.length === 0 ? 0 : at % (result.length + 1);
        result = result.slice(0, place) + insert + result.slice(place + remove);
      }
      return result;
    });
