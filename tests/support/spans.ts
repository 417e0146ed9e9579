import type { Expression, Line, Name, NumberText, Span, UnitText } from "../../server/src/language/syntax.ts";

/** A node of a line's tree with the text it claims to be made of, where that is the text of the line itself. */
export interface Seen {
  readonly what: string;
  readonly span: Span;
  readonly text?: string | undefined;
  readonly number?: number | undefined;
  readonly children: readonly Seen[];
}

type Maybe<T> = T | undefined;
const some = (...nodes: Maybe<Seen>[]): Seen[] => nodes.filter((node): node is Seen => node !== undefined);

const name = (node: Maybe<Name>): Maybe<Seen> =>
  node && { what: "name", span: node.span, text: node.text, children: [] };
const unit = (node: Maybe<UnitText>): Maybe<Seen> =>
  node && { what: "unit", span: node.span, text: node.text, children: [] };
const number = (node: Maybe<NumberText>): Maybe<Seen> =>
  node && { what: "number", span: node.span, number: node.value, children: [] };
const plain = (what: string, node: Maybe<{ span: Span; text?: string }>): Maybe<Seen> =>
  node && { what, span: node.span, text: node.text, children: [] };

function expression(node: Expression): Seen {
  const seen = (children: readonly Seen[]): Seen => ({ what: node.kind, span: node.span, children });
  switch (node.kind) {
    case "number":
      return seen(some(number(node.number), unit(node.unit)));
    case "name":
      return seen(some(name(node.name)));
    case "text":
    case "truth":
    case "missing":
      return seen([]);
    case "negate":
    case "not":
      return seen([expression(node.operand)]);
    case "is":
      return seen([expression(node.subject), expression(node.text)]);
    case "binary":
      return seen([
        expression(node.left),
        { what: "operator", span: node.operatorSpan, text: undefined, children: [] },
        expression(node.right),
      ]);
    case "call":
      return seen([
        ...some(name(node.name)),
        ...node.args.map((argument) => ({
          what: "argument",
          span: argument.span,
          children: some(name(argument.label), expression(argument.value)),
        })),
      ]);
  }
}

/** The nodes of a line, outermost first. */
export function nodesOf(line: Line): readonly Seen[] {
  const comment = plain("comment", line.comment && { span: line.comment.span });
  switch (line.kind) {
    case "measured": {
      const { value, tolerance } = line;
      return some(
        name(line.name),
        unit(line.displayUnit),
        {
          what: `value ${value.kind}`,
          span: value.span,
          children: value.kind === "number" ? some(...value.numbers.map(number), unit(value.unit)) : [],
        },
        tolerance && {
          what: "tolerance",
          span: tolerance.span,
          children: some(number(tolerance.number), unit(tolerance.unit)),
        },
        name(line.instrument),
        plain("at", line.at && { span: line.at.span }),
        comment,
      );
    }
    case "formula":
      return some(
        name(line.name),
        unit(line.displayUnit),
        expression(line.formula),
        line.recorded && {
          what: "recorded",
          span: line.recorded.span,
          children: some(plain("digits", { span: line.recorded.number.span }), unit(line.recorded.unit)),
        },
        comment,
      );
    case "limit":
      return some(expression(line.condition), plain("source", line.source), comment);
    case "date":
      return some(plain("date", { span: line.date.span, text: line.date.iso }), comment);
    case "step":
      return some(
        plain("time", { span: line.time.span }),
        name(line.step),
        name(line.place),
        line.remark && {
          what: "remark",
          span: line.remark.span,
          text: line.remark.text,
          children: some(
            plain("outcome", line.outcome && { span: line.outcome.span, text: line.outcome.word }),
            ...line.quantities.map((quantity) => ({
              what: "quantity",
              span: quantity.span,
              children: some(number(quantity.number), unit(quantity.unit)),
            })),
            line.until && {
              what: "until",
              span: line.until.span,
              children: some(
                plain("date", line.until.date && { span: line.until.date.span, text: line.until.date.iso }),
                plain("time", { span: line.until.time.span }),
              ),
            },
          ),
        },
        comment,
      );
    case "header":
      return some(
        ...line.columns.map((column) => ({
          what: "column",
          span: column.span,
          children: some(name(column.name), unit(column.unit)),
        })),
        comment,
      );
    case "row":
      return some(...line.cells.map((cell) => number(cell)), comment);
    case "option":
      return some(name(line.key), plain("value", line.value), comment);
    case "broken":
      return some(name(line.name), comment);
    case "empty":
      return some(comment);
  }
}

/** What is wrong with the spans of a line; empty when all is as it should be. */
export function spanFaults(
  line: string,
  nodes: readonly Seen[],
  inside: Span = { from: 0, to: line.length },
): string[] {
  const faults: string[] = [];
  const ordered = [...nodes].sort((a, b) => a.span.from - b.span.from || a.span.to - b.span.to);
  let last = inside.from;
  for (const node of ordered) {
    const { from, to } = node.span;
    const slice = line.slice(from, to);
    const at = `${node.what} ${from}–${to} “${slice}”`;
    if (!(from <= to)) faults.push(`${at} ends before it starts`);
    if (from < inside.from || to > inside.to) faults.push(`${at} leaves ${inside.from}–${inside.to}`);
    if (from < last) faults.push(`${at} overlaps what stands before it`);
    if (node.text !== undefined && spaced(node.text) !== spaced(slice))
      faults.push(`${at} claims to be “${node.text}”`);
    if (node.number !== undefined && Math.abs(numberIn(slice) - node.number) > 1e-9 * Math.abs(node.number))
      faults.push(`${at} claims to be ${node.number}`);
    faults.push(...spanFaults(line, node.children, node.span));
    last = Math.max(last, to);
  }
  return faults;
}

/** An independent reading of a number as written: sign, `1 1/2`, `3/16` or digits. */
function numberIn(text: string): number {
  const negative = /^[-−]/.test(text);
  const body = text.replace(/^[-−+]\s*/, "");
  const fraction = /^(?:(\d+) )?(\d+)\/(\d+)$/.exec(body);
  const size = fraction
    ? Number(fraction[1] ?? 0) + Number(fraction[2]) / Number(fraction[3])
    : Number.parseFloat(body);
  return negative ? -size : size;
}

/** The parts of a line that no leaf covers. */
export function uncovered(line: string, nodes: readonly Seen[]): string {
  const covered = new Uint8Array(line.length);
  const visit = (node: Seen): void => {
    if (node.children.length === 0) covered.fill(1, node.span.from, node.span.to);
    if (node.what === "remark") covered.fill(1, node.span.from, node.span.to);
    node.children.forEach(visit);
  };
  nodes.forEach(visit);
  return [...covered].map((is, i) => (is ? " " : line.charAt(i))).join("");
}

/** Names are compared without regard to case and to how wide their blanks are. */
const spaced = (text: string): string => text.split(/\s+/).join(" ").toLowerCase();
