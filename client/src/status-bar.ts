import {
  commands,
  type Disposable,
  l10n,
  StatusBarAlignment,
  TabInputText,
  type TextDocument,
  window,
  workspace,
} from "vscode";
import type { Server } from "./server.ts";
import { countsInWords, joined, stepsInWords } from "./words.ts";

/** Long enough not to flicker while somebody types. */
const CALM_MS = 300;

export interface NoteStatus extends Disposable {
  follow(server: Server): void;
}

/** One entry for the job note at hand: how many findings it has, and how many steps are still to do. */
export function noteStatus(): NoteStatus {
  const item = window.createStatusBarItem("witness-mark.note", StatusBarAlignment.Right, 90);
  item.name = l10n.t("Job note");
  item.command = "witness-mark.reviewNote";
  item.tooltip = l10n.t("List everything that was found in this note");
  let server: Server | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let turn = 0;

  const show = async (document: TextDocument | undefined): Promise<void> => {
    const mine = ++turn;
    const look =
      server && document?.languageId === "markdown"
        ? await server.look(document.uri).catch(() => undefined)
        : undefined;
    // Meanwhile another note came to the front, or this one was changed.
    if (mine !== turn) return;
    void commands.executeCommand("setContext", "witness-mark.jobNoteAtHand", look !== undefined);
    if (!look) {
      item.hide();
      return;
    }
    const says = joined(countsInWords(look), stepsInWords(look)) || l10n.t("nothing to report");
    item.text = look.job ? l10n.t("Job {0}: {1}", look.job, says) : l10n.t("Job note: {0}", says);
    item.accessibilityInformation = { label: item.text, role: "button" };
    item.show();
  };
  // Whichever note is at hand by then: a new one that was saved meanwhile has become another document.
  const soon = (): void => {
    clearTimeout(timer);
    timer = setTimeout(() => void show(documentAtHand()), CALM_MS);
  };
  const subscriptions = [
    item,
    window.onDidChangeActiveTextEditor(() => void show(documentAtHand())),
    workspace.onDidChangeTextDocument(({ document }) => {
      if (document === documentAtHand()) soon();
    }),
    workspace.onDidSaveTextDocument(soon),
    // A new note that is saved closes, and the file opens in its place.
    workspace.onDidCloseTextDocument(soon),
  ];
  return {
    follow(started) {
      server = started;
      void show(documentAtHand());
    },
    dispose() {
      clearTimeout(timer);
      for (const subscription of subscriptions) subscription.dispose();
    },
  };
}

/** Of the tab in front, since the editor tells of no active text editor for a moment after some of its commands. */
function documentAtHand(): TextDocument | undefined {
  if (window.activeTextEditor) return window.activeTextEditor.document;
  const input = window.tabGroups.activeTabGroup.activeTab?.input;
  if (!(input instanceof TabInputText)) return undefined;
  const uri = input.uri.toString();
  return workspace.textDocuments.find((document) => document.uri.toString() === uri);
}
