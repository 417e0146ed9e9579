import { l10n } from "vscode";
import type { Look, Looked } from "../../server/src/lsp/own-messages.ts";

/** Severities in words; a mark of a colour would say more than is known. */
export function severityWord({ severity, accepted }: Pick<Looked, "severity" | "accepted">): string {
  if (accepted !== undefined) return l10n.t("Accepted");
  if (severity === "error") return l10n.t("Error");
  return severity === "warning" ? l10n.t("Warning") : l10n.t("For information");
}

/** `2 errors, 1 warning`; empty where there is neither. */
export function countsInWords({ findings }: Look): string {
  const count = (severity: Looked["severity"]): number =>
    findings.filter((finding) => finding.severity === severity && finding.accepted === undefined).length;
  const errors = count("error");
  const warnings = count("warning");
  const parts: string[] = [];
  if (errors > 0) parts.push(errors === 1 ? l10n.t("1 error") : l10n.t("{0} errors", errors));
  if (warnings > 0) parts.push(warnings === 1 ? l10n.t("1 warning") : l10n.t("{0} warnings", warnings));
  return parts.join(", ");
}

export function stepsInWords({ stepsToDo }: Look): string {
  if (stepsToDo === 0) return "";
  return stepsToDo === 1 ? l10n.t("1 step to do") : l10n.t("{0} steps to do", stepsToDo);
}

export const joined = (...parts: readonly string[]): string => parts.filter((part) => part !== "").join(", ");
