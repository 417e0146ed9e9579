import {
  type CancellationToken,
  type Disposable,
  type ExtensionContext,
  LanguageStatusSeverity,
  l10n,
  languages,
  type TextDocument,
  Uri,
  window,
} from "vscode";
import {
  type BaseLanguageClient,
  ExecuteCommandRequest,
  type LanguageClientOptions,
  State,
  WorkDoneProgress,
} from "vscode-languageclient";
import {
  type FindAnswer,
  type FindParams,
  type Look,
  type LookParams,
  type NewNoteParams,
  type NoteTextParams,
  type OfferedProcedure,
  OWN,
  type ProceduresParams,
  type ShopParams,
  type SimilarAnswer,
  type SimilarParams,
} from "../../server/src/lsp/own-messages.ts";

export type StartServer = (context: ExtensionContext) => Promise<Server>;

/** A question about all notes, which may take its time. */
export interface Asking {
  readonly token: CancellationToken;
  /** Hears how many of how many notes are read; nothing while nothing has to be read. */
  readonly told?: (says: string) => void;
  readonly most?: number;
  /** Looks at every file again. */
  readonly again?: boolean;
}

/** Notes that the server cannot read by itself. */
export interface HandedNotes {
  list(): Promise<readonly Uri[]>;
  text(uri: Uri): Promise<string | undefined>;
}

export interface Server {
  recordResults(document: TextDocument): Promise<void>;
  procedures(near: Uri | undefined): Promise<readonly OfferedProcedure[]>;
  newNote(near: Uri | undefined, note: Omit<NewNoteParams, "near">): Promise<string | null>;
  /** Undefined for what is no job note. */
  look(uri: Uri, text?: string): Promise<Look | undefined>;
  /** Undefined when it was called off. */
  find(question: string, asking: Asking): Promise<FindAnswer | undefined>;
  /** Null for what is no job note, undefined when it was called off. */
  similar(uri: Uri, asking: Asking): Promise<SimilarAnswer | null | undefined>;
  handNotes(notes: HandedNotes): void;
  tellShop(folder: Uri, shop: { readonly uri: Uri; readonly text: string } | undefined): void;
  /** Schemes whose files the server reads by itself. */
  readonly reads: ReadonlySet<string>;
  stop(): Promise<void>;
}

/** Every scheme, since notes also live on remote and virtual file systems and in untitled editors. */
const NOTES = [{ language: "markdown" }];

export const clientOptions = (context: ExtensionContext): LanguageClientOptions => ({
  documentSelector: NOTES,
  // The server reads its settings from here, now and whenever one is changed.
  synchronize: { configurationSection: "witness-mark" },
  initializationOptions: {
    rulePages: Uri.joinPath(context.extensionUri, "grammar", "rules").toString(),
    diagnostics: "push",
    handsNotes: true,
  },
});

export async function serverOf(
  client: BaseLanguageClient,
  context: ExtensionContext,
  reads: readonly string[],
): Promise<Server> {
  context.subscriptions.push(showState(client));
  await client.start();
  const address = (uri: Uri): string => client.code2ProtocolConverter.asUri(uri);
  let asked = 0;
  const ask = async <P, A>(
    method: string,
    params: P,
    { token, told, most, again }: Asking,
  ): Promise<A | undefined> => {
    const workDoneToken = `witness-mark-${++asked}`;
    const progress = client.onProgress(WorkDoneProgress.type, workDoneToken, (value) => {
      if (value.kind === "report") told?.(value.message ?? "");
    });
    const more = { workDoneToken, ...(most === undefined ? {} : { most }), ...(again ? { again } : {}) };
    try {
      const answer = await client.sendRequest<A>(method, { ...params, ...more }, token);
      return token.isCancellationRequested ? undefined : answer;
    } catch (fault) {
      if (token.isCancellationRequested) return undefined;
      throw fault;
    } finally {
      progress.dispose();
    }
  };
  const near = (uri: Uri | undefined): ProceduresParams => (uri ? { near: address(uri) } : {});
  return {
    reads: new Set(reads),
    async recordResults(document) {
      const recorded: unknown = await client.sendRequest(ExecuteCommandRequest.type, {
        command: "witness-mark.server.recordResults",
        arguments: [address(document.uri)],
      });
      if (recorded !== true) {
        void window.setStatusBarMessage(l10n.t("Every result of this note is recorded already."), 5000);
      }
    },
    procedures: (uri) => client.sendRequest(OWN.procedures, near(uri)),
    newNote: (uri, note) => client.sendRequest(OWN.newNote, { ...near(uri), ...note }),
    async look(uri, text) {
      const params: LookParams = { uri: address(uri), ...(text === undefined ? {} : { text }) };
      return (await client.sendRequest<Look | null>(OWN.look, params)) ?? undefined;
    },
    async find(question, asking) {
      const params: FindParams = { question };
      const answer = await ask<FindParams, FindAnswer | null>(OWN.find, params, asking);
      if (answer === null) throw new Error(l10n.t("The notes could not be searched."));
      return answer;
    },
    similar: (uri, asking) =>
      ask<SimilarParams, SimilarAnswer | null>(OWN.similar, { uri: address(uri) }, asking),
    handNotes(notes) {
      client.onRequest(OWN.notes, async () => (await notes.list()).map(address));
      client.onRequest(OWN.noteText, async ({ uri }: NoteTextParams) => {
        return (await notes.text(client.protocol2CodeConverter.asUri(uri))) ?? null;
      });
    },
    tellShop(folder, shop) {
      const params: ShopParams = {
        folder: address(folder),
        shop: shop ? { uri: address(shop.uri), text: shop.text } : null,
      };
      // A server that has gone needs no shop.
      client.sendNotification(OWN.shop, params).catch(() => undefined);
    },
    stop: () => client.stop(),
  };
}

function showState(client: BaseLanguageClient): Disposable {
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
  client.onDidChangeState(({ newState }) => show(newState));
  return status;
}
