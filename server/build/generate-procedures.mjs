// Turns the YAML files of server/src/procedures into procedures.generated.ts beside them, so that neither the
// server nor the command line reads files or parses YAML to know its procedures.
// Run it after changing a YAML file: node server/build/generate-procedures.mjs
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parse } from "yaml";

const folder = new URL("../src/procedures/", import.meta.url);
const target = new URL("procedures.generated.ts", folder);

/** The order in which procedures are offered; `general` last, for when none of the others fits. */
const ids = [
  "lamp-moisture",
  "module-enclosure-leak",
  "evap-leak",
  "intake-leak",
  "boost-leak",
  "cooling-pressure",
  "cabin-water-leak",
  "exhaust-leak",
  "crankcase-leak",
  "key-off-draw",
  "tester-comparison",
  "general",
];

const read = (name) => parse(readFileSync(new URL(`${name}.yaml`, folder), "utf8"));

/**
 * JSON in which a text, list or table that occurs more than once is written once and named. The procedures
 * share many alias lists and reasons, and the bundle that every start of the editor reads is to stay small.
 */
function compact(roots) {
  const uses = new Map();
  const count = (value) => {
    const text = JSON.stringify(value);
    const known = uses.get(text) ?? 0;
    uses.set(text, known + 1);
    // What is inside something shared is written once with it, so it counts once.
    if (known === 0 && typeof value === "object" && value !== null) Object.values(value).forEach(count);
  };
  roots.forEach(count);

  const names = new Map();
  const constants = [];
  const write = (value) => {
    const text = JSON.stringify(value);
    const name = names.get(text);
    if (name !== undefined) return name;
    const written = writeParts(value, text);
    if (uses.get(text) < 2 || text.length < 14) return written;
    const made = `v${names.size}`;
    names.set(text, made);
    // `as const` keeps words such as "pressure" from widening to any text, which the schema's types refuse.
    constants.push(`const ${made} = ${written} as const;`);
    return made;
  };
  const writeParts = (value, text) => {
    if (Array.isArray(value)) return `[${value.map(write).join(",")}]`;
    if (typeof value !== "object" || value === null) return text;
    const entries = Object.entries(value).map(([key, part]) => `${JSON.stringify(key)}:${write(part)}`);
    return `{${entries.join(",")}}`;
  };
  const written = roots.map(write);
  return { constants: constants.join("\n"), written };
}

/** The text of the generated module; the same YAML always gives the same text. */
export function generate() {
  const { constants, written } = compact([read("common-steps"), ...ids.map(read)]);
  const [common, ...procedures] = written;
  return `// Generated from the YAML files beside it by server/build/generate-procedures.mjs. Do not edit.
import type { CommonFile, ProcedureFile } from "./procedure-schema.ts";

${constants}

export const commonFile: CommonFile = ${common};

export const procedureFiles: readonly ProcedureFile[] = [
${procedures.map((text) => `  ${text},`).join("\n")}
];
`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(target, generate());
