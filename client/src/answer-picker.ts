import { CancellationTokenSource, type LogOutputChannel, l10n, type QuickPick, window } from "vscode";
import { openPlace, type Row, row } from "./found-rows.ts";
import type { Asking } from "./server.ts";

/** Long enough not to ask at every letter, short enough to feel live. */
const CALM_MS = 150;

/** What an answer looks like in the list. */
export interface Shown {
  readonly rows: readonly Row[];
  /** Stands behind the title. */
  readonly count: string;
  /** Puts the answer into the view that stays. */
  readonly keep?: () => void;
}

export interface PickerOptions {
  readonly title: string;
  readonly placeholder: string;
  /** Undefined when it was called off. */
  readonly ask: (typed: string, asking: Asking) => Promise<Shown | undefined>;
  /** Whether what is typed is asked about, rather than only narrowing down the list. */
  readonly live: boolean;
  readonly log: LogOutputChannel;
  /** Called with what was typed when somebody has picked an answer to it. */
  readonly picked?: (typed: string) => void;
}

/** A list that is filled by a question about all notes and can be worked by keys alone. */
export function pickAnswer({ title, placeholder, ask, live, log, picked }: PickerOptions): void {
  const picker: QuickPick<Row> = window.createQuickPick<Row>();
  picker.title = title;
  picker.placeholder = placeholder;
  let shown: { readonly typed: string; readonly answer: Shown } | undefined;
  let turn = new CancellationTokenSource();
  let timer: ReturnType<typeof setTimeout> | undefined;

  const answer = async (): Promise<void> => {
    clearTimeout(timer);
    turn.cancel();
    turn = new CancellationTokenSource();
    const { token } = turn;
    const typed = picker.value;
    picker.busy = true;
    try {
      const told = (says: string): void => {
        if (!token.isCancellationRequested) picker.title = l10n.t("{0}: reading notes, {1}", title, says);
      };
      const given = await ask(typed, { token, told });
      if (given === undefined || token.isCancellationRequested) return;
      shown = { typed, answer: given };
      picker.title = given.count === "" ? title : `${title}: ${given.count}`;
      picker.items = given.rows;
    } catch (fault) {
      if (token.isCancellationRequested) return;
      log.error(fault instanceof Error ? fault : String(fault));
      picker.title = title;
      picker.items = [row({ label: l10n.t("The notes could not be searched.") })];
    } finally {
      if (!token.isCancellationRequested) picker.busy = false;
    }
  };

  picker.onDidChangeValue(() => {
    if (!live) return;
    clearTimeout(timer);
    timer = setTimeout(() => void answer(), CALM_MS);
  });
  picker.onDidAccept(async () => {
    // The list still answers what was typed before: Enter then asks at once.
    if (live && shown?.typed !== picker.value) {
      await answer();
      return;
    }
    const [chosen] = picker.selectedItems;
    if (chosen?.ask !== undefined) {
      picker.value = chosen.ask;
      await answer();
      return;
    }
    if (chosen?.open === undefined && chosen?.keep === undefined) return;
    picked?.(picker.value);
    picker.hide();
    if (chosen.keep) shown?.answer.keep?.();
    else if (chosen.open) await openPlace(chosen.open);
  });
  picker.onDidHide(() => {
    clearTimeout(timer);
    turn.cancel();
    picker.dispose();
  });
  picker.show();
  void answer();
}
