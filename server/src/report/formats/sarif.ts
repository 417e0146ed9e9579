import type {
  ArtifactLocation,
  Location,
  Log,
  Region,
  ReportingDescriptor,
  Result,
  Fix as SarifFix,
} from "sarif";
import type { Finding, Fix, Severity } from "../../analysis/analysis.ts";
import type { Range } from "../../note/note.ts";
import type { Checked } from "../checked.ts";
import type { RuleText } from "../rule-text.ts";
import { placeOf } from "./places.ts";
import type { Since } from "./since.ts";

/**
 * Results as SARIF 2.1.0 (OASIS Standard, "Static Analysis Results Interchange Format"): one run, written
 * piece by piece. Columns are UTF-16 units, paths are relative and percent-encoded.
 */

const LEVEL: Readonly<Record<Severity, Result.level>> = { error: "error", warning: "warning", info: "note" };
const SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json";

/** What stands before the results of the first file. */
export function sarifHead(rules: readonly RuleText[], version: string): string {
  const log: Log = {
    $schema: SCHEMA,
    version: "2.1.0",
    runs: [
      {
        tool: { driver: { name: "Witness Mark", semanticVersion: version, rules: rules.map(descriptor) } },
        columnKind: "utf16CodeUnits",
        defaultEncoding: "utf-8",
        results: [],
      },
    ],
  };
  const text = JSON.stringify(log);
  return `${text.slice(0, text.lastIndexOf("]", text.lastIndexOf("]") - 1))}\n`;
}

export const SARIF_TAIL = "\n]}]}\n";

/** The results of one file; undefined where there are none. */
export function sarifResults(checked: Checked, since?: Since): string | undefined {
  const results = [
    ...checked.findings.map((finding) => resultOf(finding, checked, since)),
    ...(checked.analysis?.accepted ?? []).map(
      ({ finding, reason }): Result => ({
        ...resultOf(finding, checked, since),
        suppressions: [{ kind: "inSource", status: "accepted", justification: reason }],
      }),
    ),
    ...(since?.mended ?? []).map(
      ({ finding, in: before }): Result => ({ ...resultOf(finding, before), baselineState: "absent" }),
    ),
  ];
  return results.length === 0 ? undefined : results.map((result) => JSON.stringify(result)).join(",\n");
}

function descriptor({ id, severity, page, why }: RuleText): ReportingDescriptor {
  return {
    id,
    shortDescription: { text: page.title },
    fullDescription: { text: page.means },
    help: {
      text: `${page.means}\n\n${why}\n\n${page.mend}`,
      markdown: `${page.means}\n\n**Why it matters.** ${why}\n\n**What to do.** ${page.mend}`,
    },
    defaultConfiguration: { level: LEVEL[severity] },
  };
}

function resultOf(finding: Finding, checked: Checked, since?: Since): Result {
  const artifact = artifactOf(checked);
  const at = (range: Range): Location => ({
    physicalLocation: { artifactLocation: artifact, region: regionOf(range, checked) },
  });
  const { related, fixes } = finding;
  return {
    ruleId: finding.rule,
    level: LEVEL[finding.severity],
    message: { text: finding.advice === "" ? finding.message : `${finding.message} ${finding.advice}` },
    locations: [at(finding.range)],
    ...(related.length === 0
      ? {}
      : {
          relatedLocations: related.map(({ range, message }, id) => ({
            id,
            ...at(range),
            message: { text: message },
          })),
        }),
    ...(fixes.length === 0 ? {} : { fixes: fixes.map((fix) => fixOf(fix, artifact, checked)) }),
    ...(since === undefined ? {} : { baselineState: since.isNew(finding) ? "new" : "unchanged" }),
  };
}

function fixOf(fix: Fix, artifactLocation: ArtifactLocation, checked: Checked): SarifFix {
  return {
    description: { text: fix.title },
    artifactChanges: [
      {
        artifactLocation,
        replacements: fix.edits.map(({ range, text }) => ({
          deletedRegion: regionOf(range, checked),
          insertedContent: { text },
        })),
      },
    ],
  };
}

function regionOf(range: Range, checked: Checked): Region {
  const { line, column, endLine, endColumn } = placeOf(range, checked);
  return { startLine: line, startColumn: column, endLine, endColumn };
}

const artifactOf = ({ path }: Checked): ArtifactLocation => ({
  uri: path.split("/").map(encodeURIComponent).join("/"),
});
