import type { Connection, TextDocuments } from "vscode-languageserver/node";
import type { TextDocument } from "vscode-languageserver-textdocument";
import type { ServerLibraries } from "../host/libraries.ts";
import type { ClientAbilities } from "./capabilities.ts";
import { clientNotes } from "./client-notes.ts";
import { Comebacks } from "./comebacks.ts";
import { Finding } from "./finding.ts";
import { Findings } from "./findings.ts";
import type { HandedShops } from "./handed-shops.ts";
import { JobNotes } from "./job-notes.ts";
import { MovingFiles } from "./moving-files.ts";
import { Navigating } from "./navigating.ts";
import { isShopAddress } from "./open-shops.ts";
import type { Settings } from "./own-messages.ts";
import { OwnRequests } from "./own-requests.ts";
import { Session } from "./session.ts";
import { Turns } from "./turns.ts";
import { Viewing } from "./viewing.ts";
import { WorkspaceFindings } from "./workspace-findings.ts";
import { WorkspaceSymbols } from "./workspace-symbols.ts";
import { Writing } from "./writing.ts";

export interface FeatureOptions {
  readonly abilities: ClientAbilities;
  readonly rulePages: string;
  /** Whether clients were told that they may pull. */
  readonly mayPull: boolean;
  /** Whether the client hands over notes that the server cannot read by itself. */
  readonly handsNotes: boolean;
  /** URIs of the folders that are open in the editor. */
  readonly folders: () => readonly string[];
  /** As they are now. */
  readonly settings: () => Settings;
}

/** All that the server can answer, by what it is for. */
export class Features {
  readonly findings: Findings;
  readonly workspaceFindings: WorkspaceFindings;
  readonly viewing: Viewing;
  readonly navigating: Navigating;
  readonly writing: Writing;
  readonly workspaceSymbols: WorkspaceSymbols;
  readonly moving: MovingFiles;
  readonly own: OwnRequests;
  readonly finding: Finding;
  readonly jobNotes: JobNotes;
  readonly comebacks: Comebacks;
  readonly turns = new Turns();

  constructor(
    connection: Connection,
    documents: TextDocuments<TextDocument>,
    options: FeatureOptions,
    libraries: ServerLibraries,
    files: HandedShops,
  ) {
    const session = new Session(documents, libraries, files, (file) => this.findings.shopRead(file));
    this.findings = new Findings(session, connection, documents, options);
    this.viewing = new Viewing(session, options);
    this.navigating = new Navigating(session, options);
    const open = (): readonly string[] => documents.keys().filter((uri) => !isShopAddress(uri));
    this.workspaceSymbols = new WorkspaceSymbols(session, libraries, files, open, options.folders);
    this.workspaceFindings = new WorkspaceFindings(session, files, open, options.folders, (checked) =>
      this.findings.diagnosticsOf(checked),
    );
    this.moving = new MovingFiles(session, libraries, files, open, options.folders);
    this.writing = new Writing(session, connection, options);
    this.own = new OwnRequests(session, files);
    const others = {
      session,
      files,
      notes: options.handsNotes ? clientNotes(connection) : undefined,
      open,
      folders: options.folders,
      watches: options.abilities.watchesFiles,
      lookAgain: () => this.findings.filesChanged(),
      turns: this.turns,
    };
    this.jobNotes = new JobNotes({ ...others, libraries });
    this.comebacks = new Comebacks(session, this.jobNotes, options);
    this.finding = new Finding({
      ...others,
      openText: (uri) => documents.get(uri)?.getText(),
      showsProgress: options.abilities.showsProgress,
      library: libraries.base,
      connection,
    });
  }
}
