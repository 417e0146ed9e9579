import type { Connection, TextDocuments } from "vscode-languageserver/node";
import type { TextDocument } from "vscode-languageserver-textdocument";
import { lazyLibraries } from "../host/libraries.ts";
import type { ClientAbilities } from "./capabilities.ts";
import { Findings } from "./findings.ts";
import { Navigating } from "./navigating.ts";
import { Session } from "./session.ts";
import { Viewing } from "./viewing.ts";
import { Writing } from "./writing.ts";

export interface FeatureOptions {
  readonly abilities: ClientAbilities;
  readonly rulePages: string;
  /** Whether clients were told that they may pull. */
  readonly mayPull: boolean;
}

/** All that the server can answer, by what it is for. */
export class Features {
  readonly findings: Findings;
  readonly viewing: Viewing;
  readonly navigating: Navigating;
  readonly writing: Writing;

  constructor(connection: Connection, documents: TextDocuments<TextDocument>, options: FeatureOptions) {
    const session = new Session(documents, lazyLibraries, (file) => this.findings.shopRead(file));
    this.findings = new Findings(session, connection, documents, options);
    this.viewing = new Viewing(session, options);
    this.navigating = new Navigating(session, options);
    this.writing = new Writing(session, connection, options);
  }
}
