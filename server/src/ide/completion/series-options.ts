import type { Card } from "../card.ts";

/** A line of a series about the file that its rows stand in. */
export interface SeriesOption {
  readonly name: "from" | "skip" | "separator" | "decimal" | "columns";
  /** A few words beside it. */
  readonly detail: string;
  readonly says: string;
  readonly example: string;
  /** What it may say, where that is one of a few words. */
  readonly words: readonly (readonly [word: string, says: string])[];
}

/** In the order in which they are usually written. */
export const SERIES_OPTIONS: readonly SeriesOption[] = [
  {
    name: "from",
    detail: "the log that holds the rows",
    says: "The rows stand in a file beside the note. Only files inside the folder of the notes are read; rows in the note are not read then.",
    example: "from: logs/decay.csv",
    words: [],
  },
  {
    name: "skip",
    detail: "lines before the table",
    says: "How many lines the logger writes about itself before its table begins.",
    example: "skip: 3",
    words: [],
  },
  {
    name: "separator",
    detail: "what stands between the columns",
    says: "What stands between the columns of the file. Without this line it is a comma.",
    example: "separator: semicolon",
    words: [
      ["comma", "as without this line"],
      ["semicolon", "usual where numbers have decimal commas"],
      ["tab", "as spreadsheets copy"],
    ],
  },
  {
    name: "decimal",
    detail: "how the file writes decimals",
    says: "The decimal sign in the file. Without this line it is a point; in the note itself it always is.",
    example: "decimal: comma",
    words: [
      ["point", "as without this line"],
      ["comma", "0,5 in the file is 0.5"],
    ],
  },
  {
    name: "columns",
    detail: "which columns of the file",
    says: "Columns of the file by heading or by number from 1, one for each column that the header of the series names, in the same order. Without this line they are taken in the file's order.",
    example: 'columns: Time, "Pressure 1"',
    words: [],
  },
];

/** What to tell of an option that somebody looks at. */
export function seriesOptionCard(name: string): Card | undefined {
  const option = SERIES_OPTIONS.find((one) => one.name === name);
  return (
    option && {
      title: `${option.name}:`,
      parts: [
        { kind: "says", text: option.says },
        { kind: "lines", lines: [option.example] },
      ],
    }
  );
}
