import { join } from "node:path";
import {
  type ExtensionContext,
  LanguageStatusSeverity,
  l10n,
  languages,
  type TextDocument,
  Uri,
  window,
} from "vscode";
import { ExecuteCommandRequest, LanguageClient, State, TransportKind } from "vscode-languageclient/node";

export interface Server {
  recordResults(document: TextDocument): Promise<void>;
  stop(): Promise<void>;
}

/** Every scheme, since notes also live on remote and virtual file systems and in untitled editors. */
const NOTES = [{ language: "markdown" }];

export async function startServer(context: ExtensionContext): Promise<Server> {
  const module = context.asAbsolutePath(join("dist", "server.js"));
  const client = new LanguageClient(
    "witness-mark",
    "Witness Mark",
    { module, transport: TransportKind.ipc },
    {
      documentSelector: NOTES,
      initializationOptions: {
        rulePages: Uri.joinPath(context.extensionUri, "grammar", "rules").toString(),
        diagnostics: "push",
      },
    },
  );
  const status = languages.createLanguageStatusItem("witness-mark", NOTES);
  status.name = "Witness Mark";
  const show = (state: State): void => {
    status.busy = state === State.Starting;
    status.severity =
      state === State.Stopped ? LanguageStatusSeverity.Error : LanguageStatusSeverity.Information;
    status.text =
      state === State.Running
        ? l10n.t("Job notes are checked")
        : state === State.Starting
          ? l10n.t("Starting to check job notes")
          : l10n.t("Job notes are not checked: the checker has stopped");
  };
  show(State.Starting);
  context.subscriptions.push(
    status,
    client.onDidChangeState(({ newState }) => show(newState)),
  );
  await client.start();

  return {
    async recordResults(document) {
      const uri = client.code2ProtocolConverter.asUri(document.uri);
      const recorded: unknown = await client.sendRequest(ExecuteCommandRequest.type, {
        command: "witness-mark.server.recordResults",
        arguments: [uri],
      });
      if (recorded !== true) {
        void window.setStatusBarMessage(l10n.t("Every result of this note is recorded already."), 5000);
      }
    },
    stop: () => client.stop(),
  };
}
