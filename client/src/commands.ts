import { commands, type Disposable, l10n, languages, type TextDocument, window } from "vscode";
import { makeNote } from "./new-note.ts";
import { reviewNote } from "./review.ts";
import type { Server } from "./server.ts";

/** The commands that are worked from the palette, by keys and by the walkthrough. */
export function registerCommands(
  ready: () => Promise<Server>,
  showJobSheet: () => Promise<void>,
): readonly Disposable[] {
  return [
    commands.registerCommand("witness-mark.newNote", async () => makeNote(await ready())),
    commands.registerCommand("witness-mark.recordResults", async () => {
      const document = noteAtHand();
      if (document) await (await ready()).recordResults(document);
    }),
    commands.registerCommand("witness-mark.showJobSheet", async () => {
      if (noteAtHand()) await showJobSheet();
    }),
    commands.registerCommand("witness-mark.reviewNote", async () => {
      const document = noteAtHand();
      if (document) await reviewNote(await ready(), document);
    }),
  ];
}

export function noteAtHand(): TextDocument | undefined {
  const document = window.activeTextEditor?.document;
  if (document && languages.match({ language: "markdown" }, document) > 0) return document;
  void window.showInformationMessage(l10n.t("Open a job note first."));
  return undefined;
}
