import type {
  DefinitionParams,
  DocumentHighlight,
  DocumentHighlightParams,
  Location,
  LocationLink,
  PrepareRenameParams,
  PrepareRenameResult,
  ReferenceParams,
  RenameParams,
  WorkspaceEdit,
} from "vscode-languageserver/node";
import { definitionAt } from "../ide/definition.ts";
import { highlightsAt, referencesAt } from "../ide/references.ts";
import { rename, renameableAt } from "../ide/rename.ts";
import { indexLines } from "../text/line-index.ts";
import type { FeatureOptions } from "./features.ts";
import { fromPosition } from "./from-protocol.ts";
import { toHighlight } from "./outline-to-protocol.ts";
import type { Session } from "./session.ts";
import { toRange, toWorkspaceEdit } from "./to-protocol.ts";

/** From one mention of a thing to the others. */
export class Navigating {
  constructor(
    private readonly session: Session,
    private readonly options: FeatureOptions,
  ) {}

  definition({ textDocument, position }: DefinitionParams): LocationLink[] | Location[] | null {
    const checked = this.session.checked(textDocument.uri);
    if (!checked) return null;
    const { analysis, shop, target } = checked;
    const definition = definitionAt(analysis, shop, fromPosition(analysis.note, position));
    if (!definition) return null;
    const shopFile = this.session.shopFile(textDocument.uri);
    const shopLines = shopFile && indexLines(shopFile.text);
    const locations = definition.places.flatMap(({ file, range }): Location[] => {
      if (file === "note") return [{ uri: target.uri, range: toRange(target.lines, range) }];
      return shopFile && shopLines ? [{ uri: shopFile.uri, range: toRange(shopLines, range) }] : [];
    });
    if (!this.options.abilities.definitionLinks) return locations;
    const originSelectionRange = toRange(target.lines, definition.origin);
    return locations.map(({ uri, range }) => ({
      originSelectionRange,
      targetUri: uri,
      targetRange: range,
      targetSelectionRange: range,
    }));
  }

  references({ textDocument, position, context }: ReferenceParams): Location[] {
    const checked = this.session.checked(textDocument.uri);
    if (!checked) return [];
    const { analysis, target } = checked;
    const offset = fromPosition(analysis.note, position);
    return referencesAt(analysis, offset, context.includeDeclaration).map((range) => ({
      uri: target.uri,
      range: toRange(target.lines, range),
    }));
  }

  highlights({ textDocument, position }: DocumentHighlightParams): DocumentHighlight[] {
    const checked = this.session.checked(textDocument.uri);
    if (!checked) return [];
    const { analysis, target } = checked;
    return highlightsAt(analysis, fromPosition(analysis.note, position)).map((highlight) =>
      toHighlight(highlight, target.lines),
    );
  }

  prepareRename({ textDocument, position }: PrepareRenameParams): PrepareRenameResult | null {
    const checked = this.session.checked(textDocument.uri);
    const found = checked && renameableAt(checked.analysis, fromPosition(checked.analysis.note, position));
    return checked && found
      ? { range: toRange(checked.target.lines, found.range), placeholder: found.name }
      : null;
  }

  rename({
    textDocument,
    position,
    newName,
  }: RenameParams): WorkspaceEdit | { readonly refused: string } | null {
    const checked = this.session.checked(textDocument.uri);
    if (!checked) return null;
    const { analysis, target } = checked;
    const renaming = rename(analysis, fromPosition(analysis.note, position), newName);
    if (!renaming.ok) return { refused: renaming.says };
    return toWorkspaceEdit(renaming.edits, target, this.options.abilities.versionedEdits);
  }
}
