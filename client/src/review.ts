import { l10n, type QuickPickItem, QuickPickItemKind, Range, type TextDocument, window } from "vscode";
import type { Looked } from "../../server/src/lsp/own-messages.ts";
import type { Server } from "./server.ts";
import { severityWord } from "./words.ts";

interface Row extends QuickPickItem {
  readonly finding?: Looked;
}

/** Lists every finding of a note, gravest first and the accepted ones last, and goes to the one that is picked. */
export async function reviewNote(server: Server, document: TextDocument): Promise<void> {
  const look = await server.look(document.uri);
  if (!look) {
    void window.showInformationMessage(l10n.t("This file is no job note: its front matter has no `job`."));
    return;
  }
  if (look.findings.length === 0) {
    void window.showInformationMessage(l10n.t("Nothing was found in this note."));
    return;
  }
  const picked = await window.showQuickPick(rowsOf(look.findings), {
    title: look.job ? l10n.t("Review of job {0}", look.job) : l10n.t("Review of this note"),
    placeHolder: l10n.t("Pick one to go to its line"),
    matchOnDescription: true,
    matchOnDetail: true,
  });
  if (!picked?.finding) return;
  const { start } = picked.finding.range;
  const at = new Range(start.line, start.character, start.line, start.character);
  await window.showTextDocument(document, { selection: at });
}

function rowsOf(findings: readonly Looked[]): Row[] {
  const rows: Row[] = [];
  const open = (finding: Looked): boolean => finding.accepted === undefined;
  const group = (heading: string, wanted: (finding: Looked) => boolean): void => {
    const among = findings.filter(wanted);
    if (among.length === 0) return;
    rows.push({ label: heading, kind: QuickPickItemKind.Separator });
    rows.push(...among.map(rowOf));
  };
  group(l10n.t("Errors"), (finding) => open(finding) && finding.severity === "error");
  group(l10n.t("Warnings"), (finding) => open(finding) && finding.severity === "warning");
  group(l10n.t("For information"), (finding) => open(finding) && finding.severity === "info");
  group(l10n.t("Accepted"), (finding) => !open(finding));
  return rows;
}

function rowOf(finding: Looked): Row {
  const { message, advice, accepted, rule, range } = finding;
  return {
    label: l10n.t("{0}, line {1}", severityWord(finding), range.start.line + 1),
    description: rule,
    detail:
      accepted === undefined ? `${message} ${advice}` : l10n.t("{0} Reason given: {1}", message, accepted),
    finding,
  };
}
