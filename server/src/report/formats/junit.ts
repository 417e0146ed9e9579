import Builder from "fast-xml-builder";
import type { Finding } from "../../analysis/analysis.ts";
import type { Checked } from "../checked.ts";
import { onOneLine, placeOf } from "./places.ts";
import type { Since } from "./since.ts";

/**
 * Results as JUnit XML, the form that most servers for continuous integration show: a file is a suite, a
 * finding of severity error is a failed case, a warning or an information a passed one that says so, and an
 * accepted finding a skipped one with its reason. A file with nothing to report is one passed case.
 */

export const JUNIT_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="Witness Mark">\n';
export const JUNIT_TAIL = "</testsuites>\n";

const builder = new Builder({
  ignoreAttributes: false,
  attributeNamePrefix: "@",
  format: true,
  suppressEmptyNode: true,
  suppressBooleanAttributes: false,
});

interface Case {
  readonly "@name": string;
  readonly "@classname": string;
  readonly "@file"?: string;
  readonly "@line"?: string;
  readonly failure?: { readonly "@type": string; readonly "@message": string; readonly "#text": string };
  readonly skipped?: { readonly "@message": string };
  readonly "system-out"?: string;
}

/** One file as a suite. */
export function junitSuite(checked: Checked, since?: Since): string {
  const cases: Case[] = [
    ...checked.findings.map((finding) => caseOf(finding, checked, since)),
    ...(checked.analysis?.accepted ?? []).map(({ finding, reason }) => ({
      ...named(finding, checked),
      skipped: { "@message": onOneLine(`accepted: ${reason}`) },
    })),
  ];
  if (cases.length === 0) cases.push({ "@name": "nothing to report", "@classname": onOneLine(checked.path) });
  const failures = cases.filter(({ failure }) => failure !== undefined).length;
  const skipped = cases.filter((one) => one.skipped !== undefined).length;
  return String(
    builder.build({
      testsuite: {
        "@name": onOneLine(checked.path),
        "@tests": String(cases.length),
        "@failures": String(failures),
        "@errors": "0",
        "@skipped": String(skipped),
        testcase: cases,
      },
    }),
  );
}

function caseOf(finding: Finding, checked: Checked, since: Since | undefined): Case {
  const { line, column } = placeOf(finding.range, checked);
  const age = since === undefined ? "" : since.isNew(finding) ? "new: " : "known before: ";
  const says = `${checked.path}:${line}:${column} ${age}${finding.message} ${finding.advice} Why: ${finding.why}`;
  const base = named(finding, checked);
  // Where earlier findings are known, those that were there before fail no run.
  const fails = finding.severity === "error" && (since === undefined || since.isNew(finding));
  if (!fails) return { ...base, "system-out": onOneLine(`${finding.severity}: ${says}`) };
  return {
    ...base,
    failure: { "@type": finding.rule, "@message": onOneLine(finding.message), "#text": onOneLine(says) },
  };
}

function named(finding: Finding, checked: Checked): Case {
  const { line } = placeOf(finding.range, checked);
  return {
    "@name": onOneLine(`${finding.rule}, line ${line}`),
    "@classname": onOneLine(checked.path),
    "@file": onOneLine(checked.path),
    "@line": String(line),
  };
}
