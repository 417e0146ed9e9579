import type {
  CancellationToken,
  Diagnostic,
  WorkspaceDiagnosticParams,
  WorkspaceDiagnosticReport,
  WorkspaceDocumentDiagnosticReport,
} from "vscode-languageserver/node";
import type { Note } from "../note/note.ts";
import type { Files } from "./files.ts";
import { nextTurn } from "./next-turn.ts";
import type { CheckedNote, Session } from "./session.ts";

/** How long notes are checked in one go before waiting requests are let in, in milliseconds. */
const SLICE = 10;

interface Remembered {
  readonly id: string;
  /** The state of the note and of its shop file when it was checked. */
  readonly stamp: string;
  /** The round of looking at the files that it holds for; undefined where no other file counts. */
  readonly round: number | undefined;
}

/**
 * The findings of all notes in the open folders, for clients that ask for them. A note that was told about
 * and has not changed since is not checked again.
 */
export class WorkspaceFindings {
  readonly #told = new Map<string, Remembered>();
  #ids = 0;

  constructor(
    private readonly session: Session,
    private readonly files: Files,
    private readonly open: () => readonly string[],
    private readonly folders: () => readonly string[],
    private readonly diagnosticsOf: (checked: CheckedNote) => Diagnostic[],
  ) {}

  async pull(
    { previousResultIds }: WorkspaceDiagnosticParams,
    token: CancellationToken,
  ): Promise<WorkspaceDiagnosticReport> {
    const before = new Map(previousResultIds.map(({ uri, value }) => [uri, value]));
    const items: WorkspaceDocumentDiagnosticReport[] = [];
    const open = new Set(this.open());
    let started = performance.now();
    for (const uri of this.files.markdownIn(this.folders())) {
      if (performance.now() - started > SLICE) {
        await new Promise<void>((resolve) => nextTurn(resolve));
        if (token.isCancellationRequested) break;
        started = performance.now();
      }
      // An open note is asked about by itself.
      if (open.has(uri)) continue;
      const report = this.#report(uri, before.get(uri));
      if (report) items.push(report);
      before.delete(uri);
    }
    // What was told about and is gone has no findings any more.
    for (const uri of token.isCancellationRequested ? [] : before.keys()) {
      if (!open.has(uri)) items.push({ kind: "full", uri, version: null, items: [] });
    }
    return { items };
  }

  #report(uri: string, previous: string | undefined): WorkspaceDocumentDiagnosticReport | undefined {
    const { round } = this.session;
    const stamp = `${this.files.stamp(uri)} ${this.files.shopFile(uri)?.stamp ?? ""}`;
    const told = this.#told.get(uri);
    const holds = told?.stamp === stamp && (told.round === undefined || told.round === round);
    if (told && holds && previous === told.id) {
      return { kind: "unchanged", uri, version: null, resultId: told.id };
    }
    const text = this.files.text(uri);
    const checked = text === undefined ? undefined : this.session.read(uri, text);
    if (!checked && previous === undefined) return undefined;
    const id = String(++this.#ids);
    const others = checked !== undefined && needsOtherFiles(checked.analysis.note);
    this.#told.set(uri, { id, stamp, round: others ? round : undefined });
    const items = checked ? this.diagnosticsOf(checked) : [];
    return { kind: "full", uri, version: null, resultId: id, items };
  }
}

/** Whether other files than the shop file count for a note: pictures and notes that it links to, and logs. */
const needsOtherFiles = ({ links, blocks }: Note): boolean =>
  links.length > 0 ||
  blocks.some(({ kind, lines }) => kind === "series" && lines.some(({ syntax }) => syntax.kind === "option"));
