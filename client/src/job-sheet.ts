import {
  commands,
  type Disposable,
  type Event,
  EventEmitter,
  type LogOutputChannel,
  l10n,
  Uri,
  window,
  workspace,
} from "vscode";
import type { extend } from "../../server/src/preview/browser.ts";
import type { ShopTexts } from "./shop-texts.ts";

export interface Preview {
  readonly extend: typeof extend;
}

/** The editor's own command for the markdown preview. */
const SHOW_PREVIEW = "markdown.showPreviewToSide";
/** How long a preview may take until it asks for what extensions add to it. */
const PATIENCE_MS = 5000;

export interface JobSheets extends Disposable {
  /** Shows the note at hand in the preview, or says why it is not shown as a job sheet. */
  show(): Promise<void>;
  /** Hands the job sheet to the built-in preview. Never throws: every markdown preview passes here. */
  readonly extend: <M>(md: M) => M;
}

/** Job notes in the built-in markdown preview, shown as job sheets. */
export function jobSheets(load: () => Preview, shops: ShopTexts, log: LogOutputChannel): JobSheets {
  let extended = false;
  const asked = new EventEmitter<void>();
  const report = (fault: unknown): void =>
    log.error(l10n.t("A job sheet could not be shown in the preview."), fault);
  const refresh = (): void => {
    // Without an open preview there is nothing to draw again.
    if (extended) commands.executeCommand("markdown.preview.refresh").then(undefined, () => undefined);
  };
  const subscriptions = [
    asked,
    shops.onDidChange(refresh),
    workspace.onDidChangeConfiguration((change) => {
      if (change.affectsConfiguration("witness-mark.previewAsJobSheet")) refresh();
    }),
  ];
  return {
    dispose: () => {
      for (const subscription of subscriptions) subscription.dispose();
    },
    async show() {
      try {
        await commands.executeCommand(SHOW_PREVIEW);
      } catch (fault) {
        report(fault);
        void window.showInformationMessage(
          l10n.t("This editor runs without its markdown preview, which the job sheet is drawn in."),
        );
        return;
      }
      if (extended || (await happens(asked.event))) return;
      // In a browser the editor may run its preview on the far side, where this extension is not.
      void window.showInformationMessage(
        l10n.t(
          "The markdown preview runs apart from Witness Mark here, so it shows the note as plain markdown and not as a job sheet.",
        ),
      );
    },
    extend(md) {
      try {
        load().extend(md as Parameters<typeof extend>[0], {
          enabled: () => workspace.getConfiguration("witness-mark").get("previewAsJobSheet") !== false,
          noteUri: (env) => noteOf(env)?.toString(),
          openShops: () => shops.open(),
          shopText: (uri) => shops.textFor(Uri.parse(uri)),
          report,
        });
        extended = true;
        asked.fire();
      } catch (fault) {
        report(fault);
      }
      return md;
    },
  };
}

/** Whether an event comes before the patience is over. */
const happens = (event: Event<void>): Promise<boolean> =>
  new Promise((resolve) => {
    const timer = setTimeout(() => done(false), PATIENCE_MS);
    const subscription = event(() => done(true));
    const done = (came: boolean): void => {
      clearTimeout(timer);
      subscription.dispose();
      resolve(came);
    };
  });

/** The preview hands the address of the document to its renderers. */
function noteOf(env: unknown): Uri | undefined {
  if (typeof env !== "object" || env === null || !("currentDocument" in env)) return undefined;
  return env.currentDocument instanceof Uri ? env.currentDocument : undefined;
}
