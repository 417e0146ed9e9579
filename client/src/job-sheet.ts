import { commands, type Disposable, type LogOutputChannel, l10n, Uri, workspace } from "vscode";
import type { extend } from "../../server/src/preview/browser.ts";
import type { ShopTexts } from "./shop-texts.ts";

export interface Preview {
  readonly extend: typeof extend;
}

export interface JobSheets extends Disposable {
  /** Hands the job sheet to the built-in preview. Never throws: every markdown preview passes here. */
  readonly extend: <M>(md: M) => M;
}

/** Job notes in the built-in markdown preview, shown as job sheets. */
export function jobSheets(load: () => Preview, shops: ShopTexts, log: LogOutputChannel): JobSheets {
  let extended = false;
  const report = (fault: unknown): void =>
    log.error(l10n.t("A job sheet could not be shown in the preview."), fault);
  const refresh = (): void => {
    // Without an open preview there is nothing to draw again.
    if (extended) commands.executeCommand("markdown.preview.refresh").then(undefined, () => undefined);
  };
  const subscriptions = [
    shops.onDidChange(refresh),
    workspace.onDidChangeConfiguration((change) => {
      if (change.affectsConfiguration("witness-mark.previewAsJobSheet")) refresh();
    }),
  ];
  return {
    dispose: () => {
      for (const subscription of subscriptions) subscription.dispose();
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
      } catch (fault) {
        report(fault);
      }
      return md;
    },
  };
}

/** The preview hands the address of the document to its renderers. */
function noteOf(env: unknown): Uri | undefined {
  if (typeof env !== "object" || env === null || !("currentDocument" in env)) return undefined;
  return env.currentDocument instanceof Uri ? env.currentDocument : undefined;
}
