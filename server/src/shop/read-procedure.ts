import type { Range } from "../note/note.ts";
import type { YamlNode } from "../note/yaml-tree.ts";
import { asResolved, keyRangeAt, nodeAt } from "../note/yaml-values.ts";
import { completeProcedure, findStep, type Procedure, termsOf } from "../procedures/procedure.ts";
import { type ProcedureFile, procedureSchema } from "../procedures/procedure-schema.ts";
import { commonFile } from "../procedures/procedures.generated.ts";
import { nearest } from "../text/nearest.ts";
import { readUnit } from "../units/unit-reader.ts";
import type { Report } from "./piece.ts";

/** A procedure with more mistakes than this is better compared with a built-in one than mended one by one. */
const MAX_PROBLEMS = 10;

/**
 * Reads one procedure of the shop's own, of the same form as the built-in ones. Undefined where anything in
 * it is wrong: half a procedure would let things pass that it means to forbid.
 */
export function readProcedure(
  node: YamlNode,
  builtIn: ReadonlyMap<string, Procedure>,
  report: Report,
): Procedure | undefined {
  const result = procedureSchema.safeParse(asResolved(node));
  if (!result.success) {
    for (const issue of result.error.issues.slice(0, MAX_PROBLEMS)) reportIssue(node, issue, report);
    return undefined;
  }
  if (!namesExist(node, result.data, report) || !unitsAreKnown(node, report)) return undefined;
  const procedure = completeProcedure(result.data, commonFile);
  const replaced = builtIn.get(procedure.id);
  return replaced ? withFixedSafety(procedure, replaced) : procedure;
}

/** What a built-in procedure holds for anybody's safety stays, whatever the shop's own version of it says. */
function withFixedSafety(own: Procedure, replaced: Procedure): Procedure {
  const missing = replaced.limits.filter(
    (limit) => !limit.raisable && !own.limits.some((l) => !l.raisable && l.assembly === limit.assembly),
  );
  const medium = replaced.medium ?? own.medium;
  const cautions = [...new Set([...replaced.cautions, ...own.cautions])];
  return { ...own, cautions, limits: [...own.limits, ...missing], ...(medium ? { medium } : {}) };
}

interface Issue {
  readonly code?: string | undefined;
  readonly path: PropertyKey[];
  readonly keys?: string[] | undefined;
  readonly message: string;
}

function reportIssue(root: YamlNode, issue: Issue, report: Report): void {
  const place = words(issue.path);
  if (issue.code === "unrecognized_keys") {
    for (const key of issue.keys ?? []) {
      const at = keyRangeAt(root, [...issue.path, key]);
      report(
        at,
        `\`${key}\` is no key ${place === "" ? "of a procedure" : `in ${place}`}.`,
        "Remove it, or see the form of a built-in procedure.",
      );
    }
    return;
  }
  const node = nodeAt(root, issue.path);
  if (node === undefined) {
    report(
      keyRangeAt(root, issue.path),
      `The procedure lacks ${place}.`,
      "Add it, as a built-in procedure has it.",
    );
    return;
  }
  // The schema's own sentences are ours only where it was given one.
  const given = /^write /.test(issue.message)
    ? `${issue.message.replace(/^w/, "W")}.`
    : "See how a built-in procedure writes it.";
  report(startOf(node.range), `${place === "" ? "A procedure" : place} cannot be read like this.`, given);
}

const BOUNDS: ReadonlySet<string> = new Set([
  "warnAbove",
  "errorAbove",
  "errorFrom",
  "otherwise",
  "atLeast",
  "atMost",
]);

/** Whether the unit of every bound is known: a limit that cannot be read would hold nothing back. */
function unitsAreKnown(node: YamlNode, report: Report): boolean {
  if (node.kind === "list") return node.items.map((item) => unitsAreKnown(item, report)).every(Boolean);
  if (node.kind !== "map") return true;
  let good = true;
  for (const { key, value } of node.entries) {
    if (value.kind !== "scalar") {
      if (!unitsAreKnown(value, report)) good = false;
      continue;
    }
    const spelling = BOUNDS.has(key) ? /^[+-]?\d+(?:\.\d+)? (\S.*)$/.exec(value.source)?.[1] : undefined;
    if (spelling === undefined || readUnit(spelling).ok) continue;
    good = false;
    const own = report.units && readUnit(spelling, report.units).ok;
    report(
      value.range,
      own
        ? `\`${spelling}\` is the shop's own unit, and a procedure takes only those that everybody knows.`
        : `\`${spelling}\` is no known unit.`,
      "Write a unit such as psi, kPa, degC or h.",
    );
  }
  return good;
}

/** A whole block is too much to underline; its first character leads there. */
const startOf = (range: Range): Range => ({ from: range.from, to: Math.min(range.to, range.from + 40) });

/** `steps, 3rd, needs` of a path. */
function words(path: readonly PropertyKey[]): string {
  return path
    .map((step) => (typeof step === "number" ? `number ${step + 1}` : `\`${String(step)}\``))
    .join(", ");
}

/** Whether every condition and step that the procedure names is there; a misspelt one would never hold. */
function namesExist(root: YamlNode, file: ProcedureFile, report: Report): boolean {
  const conditions = Object.keys(file.conditions);
  let good = true;
  const check = (names: readonly string[], path: PropertyKey[]): void => {
    for (const name of names) {
      if (conditions.includes(name)) continue;
      good = false;
      const [near] = nearest(name, conditions, 1);
      const node = nodeAt(root, path);
      const range = node ? startOf(node.range) : keyRangeAt(root, path);
      report(
        range,
        `No condition is called \`${name}\`.`,
        near ? `Perhaps \`${near}\` is meant.` : "Add it to `conditions`.",
      );
    }
  };
  const bare = (
    terms: readonly (string | { not: string } | { anyOf: readonly (string | { not: string })[] })[],
  ): string[] =>
    terms.flatMap((term) => (typeof term === "string" ? term : "not" in term ? term.not : bare(term.anyOf)));
  check(file.start, ["start"]);
  for (const [outcome, terms] of Object.entries(file.end)) check(bare(terms), ["end", outcome]);
  for (const [name, condition] of Object.entries(file.conditions)) {
    const named = [condition.opposite, condition.takes?.since].filter((n) => n !== undefined);
    check(named, ["conditions", name]);
  }
  for (const [index, step] of file.steps.entries()) {
    const path = ["steps", index];
    check(
      (step.needs ?? []).flatMap((need) => [...termsOf(need)]),
      [...path, "needs"],
    );
    check(step.makes ?? [], [...path, "makes"]);
    check(step.undoes ?? [], [...path, "undoes"]);
    for (const effect of Object.values(step.byOutcome ?? {})) {
      check([...(effect.makes ?? []), ...(effect.undoes ?? [])], [...path, "byOutcome"]);
    }
  }
  if (!good) return false;
  const complete = completeProcedure(file, commonFile);
  for (const [index, line] of file.usual.entries()) {
    const found = findStep(complete, line.replace(/[[:].*$/, "").trim());
    if (found.ok) continue;
    good = false;
    const node = nodeAt(root, ["usual", index]);
    const [near] = found.nearest;
    const advice = near ? `Perhaps \`${near}\` is meant.` : "Add it to `steps`.";
    report(node?.range ?? keyRangeAt(root, ["usual"]), `No step is called \`${line}\`.`, advice);
  }
  return good;
}
