import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import AjvDraft04 from "ajv-draft-04";
import addFormats from "ajv-formats";

/** The schema of the OASIS Standard SARIF 2.1.0 (rtm.5), as a package for tests carries it. */
export function sarifValidator(): (log: unknown) => string[] {
  const path = createRequire(import.meta.url).resolve(
    "@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json",
  );
  const schema: object = JSON.parse(readFileSync(path, "utf8"));
  // One of the schema's patterns is no regular expression by the stricter reading that comes with Unicode.
  const ajv = new AjvDraft04({ strict: false, allErrors: true, unicodeRegExp: false });
  addFormats(ajv);
  const validate = ajv.compile(schema);
  return (log) => {
    validate(log);
    return (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`);
  };
}
