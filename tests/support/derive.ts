import fc from "fast-check";
import type { Rule } from "./ebnf.ts";

/** Deeper derivations take the first alternative and leave out what may be left out. */
const DEEPEST = 7;

/** Derives sentences of a grammar at random. `tokens` makes what the grammar itself does not define. */
export function deriver(
  rules: ReadonlyMap<string, Rule>,
  tokens: Readonly<Record<string, fc.Arbitrary<string>>>,
): (start: string) => fc.Arbitrary<string> {
  const { tie, made } = knot(rules, tokens);
  return (start) => made[start] ?? tie(start);
}

function knot(
  rules: ReadonlyMap<string, Rule>,
  tokens: Readonly<Record<string, fc.Arbitrary<string>>>,
): { tie: (name: string) => fc.Arbitrary<string>; made: Readonly<Record<string, fc.Arbitrary<string>>> } {
  let keep: (name: string) => fc.Arbitrary<string> = () => fc.constant("");
  const made = fc.letrec<Record<string, string>>((tie) => {
    keep = tie;
    const deeper = { maxDepth: DEEPEST, depthIdentifier: "derivation", depthSize: "small" } as const;
    const make = (rule: Rule): fc.Arbitrary<string> => {
      switch (rule.kind) {
        case "literal":
          return fc.constant(rule.text);
        case "symbol": {
          const token = tokens[rule.name];
          if (!rules.has(rule.name) && !token) throw new Error(`no token ${rule.name}`);
          return token ?? tie(rule.name);
        }
        case "class":
          if (rule.negated) throw new Error("a class of all but some is not derived from");
          return fc
            .oneof(...rule.ranges.map(([min, max]) => fc.integer({ min, max })))
            .map((code) => String.fromCodePoint(code));
        case "sequence":
          return fc.tuple(...rule.parts.map(make)).map((parts) => parts.join(""));
        case "choice":
          return fc.oneof(deeper, ...rule.parts.map(make));
        case "except": {
          const without = literalsOf(rule.without, rules);
          return make(rule.part).filter((text) => !without.has(text.toLowerCase()));
        }
        case "repeat": {
          const one = make(rule.part);
          const two = fc.tuple(one, one).map((pair) => pair.join(""));
          const none = fc.constant("");
          if (rule.sign === "?") return fc.oneof(deeper, none, one);
          if (rule.sign === "+") return fc.oneof(deeper, one, two);
          return fc.oneof(deeper, none, one, two);
        }
      }
    };
    return Object.fromEntries([...rules].map(([name, rule]) => [name, make(rule)]));
  });
  return { tie: keep, made };
}

function literalsOf(rule: Rule, rules: ReadonlyMap<string, Rule>): ReadonlySet<string> {
  const found = new Set<string>();
  const visit = (one: Rule | undefined): void => {
    if (one?.kind === "literal") found.add(one.text);
    else if (one?.kind === "symbol") visit(rules.get(one.name));
    else if (one?.kind === "choice") one.parts.forEach(visit);
    else throw new Error("only words can be taken out of a token");
  };
  visit(rule);
  return found;
}
