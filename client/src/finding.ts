import {
  CancellationTokenSource,
  commands,
  type Disposable,
  type LogOutputChannel,
  l10n,
  type Memento,
  Uri,
  window,
} from "vscode";
import type { FindAnswer } from "../../server/src/lsp/own-messages.ts";
import { pickAnswer, type Shown } from "./answer-picker.ts";
import { noteAtHand } from "./commands.ts";
import {
  countInWords,
  foundRow,
  heading,
  keepRow,
  type Row,
  remarkRows,
  row,
  similarRow,
  wrongRows,
} from "./found-rows.ts";
import { FoundView, type Kept } from "./found-view.ts";
import type { Asking, Server } from "./server.ts";

const ASKED_BEFORE = "witness-mark.questions";
const MOST_REMEMBERED = 8;
/** A view holds more than a list to pick from. */
const MOST_KEPT = 1000;

type Ready = () => Promise<Server>;

/** The commands that ask all notes, and the view that keeps an answer. */
export function registerFinding(ready: Ready, memory: Memento, log: LogOutputChannel): readonly Disposable[] {
  const view = new FoundView();
  const before = (): readonly string[] => memory.get<string[]>(ASKED_BEFORE, []);
  const remember = (question: string): void => {
    const text = question.trim();
    if (text === "") return;
    const others = before().filter((one) => one !== text);
    void memory.update(ASKED_BEFORE, [text, ...others].slice(0, MOST_REMEMBERED));
  };
  const keep = (kept: Kept): void => {
    void view.show(kept);
  };
  /** Asks again for the view, which lists more than the picker did. */
  const keepAll = async (kept: Kept | undefined, again: boolean): Promise<void> => {
    if (!kept) return;
    const location = { viewId: FoundView.id };
    const fresh = await window.withProgress({ location }, async () => {
      try {
        return await kept.askAgain({ token: new CancellationTokenSource().token, most: MOST_KEPT, again });
      } catch (fault) {
        log.error(fault instanceof Error ? fault : String(fault));
        void window.showErrorMessage(l10n.t("The notes could not be searched."));
        return undefined;
      }
    });
    if (fresh) keep(fresh);
  };
  return [
    view,
    commands.registerCommand("witness-mark.findNotes", () =>
      pickAnswer({
        title: l10n.t("Find in the notes"),
        placeholder: l10n.t("Words, or a condition such as: leak size > 0.3 mm"),
        live: true,
        log,
        picked: remember,
        async ask(typed, asking) {
          const answer = await (await ready()).find(typed, asking);
          return (
            answer &&
            showFound(typed, answer, before(), () => void keepAll(foundKept(ready, typed, answer), false))
          );
        },
      }),
    ),
    commands.registerCommand("witness-mark.findSimilar", (given: unknown) => {
      const uri = given instanceof Uri ? given : noteAtHand()?.uri;
      if (uri) {
        pickAnswer({
          title: l10n.t("Similar jobs"),
          placeholder: l10n.t("Pick one to open it"),
          live: false,
          log,
          ask: (_, asking) => showSimilar(ready, uri, asking, keep),
        });
      }
    }),
    commands.registerCommand("witness-mark.findAgain", () => keepAll(view.kept, true)),
    commands.registerCommand("witness-mark.clearFound", () => view.clear()),
  ];
}

function showFound(typed: string, answer: FindAnswer, before: readonly string[], keep: () => void): Shown {
  const { readAs, wrong, notes, total, among, examples } = answer;
  if (wrong) return { rows: wrongRows(typed, wrong), count: "" };
  if (readAs === "nothing") {
    const ask = (question: string, says: string): Row =>
      row({ label: question, description: says, ask: question });
    const rows = [
      ...(before.length > 0 ? [heading(l10n.t("Asked before"))] : []),
      ...before.map((question) => ask(question, "")),
      heading(l10n.t("Ways to ask")),
      ...examples.map(({ question, says }) => ask(question, says)),
    ];
    return among === 0 ? noNotes(answer) : { rows, count: l10n.t("{0} job notes", among) };
  }
  if (among === 0) return noNotes(answer);
  if (total === 0) {
    const none =
      readAs === "words"
        ? l10n.t("No job note holds all of these words.")
        : l10n.t("No job note meets this condition.");
    return { rows: [row({ label: none }), ...remarkRows(answer)], count: countInWords(0, among) };
  }
  return {
    rows: [...notes.map(foundRow), heading(""), ...remarkRows(answer), keepRow(total)],
    count: countInWords(total, among),
    keep,
  };
}

const noNotes = (answer: FindAnswer): Shown => ({
  rows: [row({ label: l10n.t("There are no job notes in the open folders.") }), ...remarkRows(answer)],
  count: "",
});

const foundKept = (ready: Ready, question: string, answer: FindAnswer): Kept => ({
  says: joinedTitle(question, countInWords(answer.total, answer.among)),
  rows: answer.notes,
  more: answer.total - answer.notes.length,
  async askAgain(asking) {
    const fresh = await (await ready()).find(question, asking);
    return fresh && foundKept(ready, question, fresh);
  },
});

const joinedTitle = (what: string, count: string): string => l10n.t("{0}: {1}", what.trim(), count);

async function showSimilar(
  ready: Ready,
  uri: Uri,
  asking: Asking,
  keep: (kept: Kept) => void,
): Promise<Shown | undefined> {
  const answer = await (await ready()).similar(uri, asking);
  if (answer === undefined) return undefined;
  if (answer === null) {
    const label = l10n.t("This file is no job note: its front matter has no `job`.");
    return { rows: [row({ label })], count: "" };
  }
  const { notes } = answer;
  if (notes.length === 0)
    return {
      rows: [row({ label: l10n.t("No other job note is like this one.") }), ...remarkRows(answer)],
      count: "",
    };
  const name = uri.path.slice(uri.path.lastIndexOf("/") + 1);
  const kept = (listed: typeof notes): Kept => ({
    says: l10n.t("Jobs like {0}", name),
    rows: listed,
    more: 0,
    async askAgain(again) {
      const { most: _, ...asked } = again;
      const fresh = await (await ready()).similar(uri, asked);
      return fresh ? kept(fresh.notes) : undefined;
    },
  });
  return {
    rows: [...notes.map(similarRow), heading(""), ...remarkRows(answer), keepRow(notes.length)],
    count: name,
    keep: () => keep(kept(notes)),
  };
}
