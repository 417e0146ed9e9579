/** The text of procedures.generated.ts, made from the YAML files. */
export function generate(): string;
