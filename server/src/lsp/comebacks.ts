import type {
  CancellationToken,
  DefinitionParams,
  DocumentLink,
  Hover,
  HoverParams,
  Location,
  LocationLink,
} from "vscode-languageserver";
import { type Comeback, comebackAt, comebackOf, firstJobCard } from "../ide/comeback.ts";
import { shownPaths } from "./addresses.ts";
import type { FeatureOptions } from "./features.ts";
import { fromPosition } from "./from-protocol.ts";
import type { JobNote, JobNotes } from "./job-notes.ts";
import type { CheckedNote, Session } from "./session.ts";
import { toHover, toRange } from "./to-protocol.ts";

interface LinkData {
  readonly comeback: string;
  readonly of: string;
}

/** From `comeback of: JOB` to the note of that job. The only feature of a note for which others are read. */
export class Comebacks {
  constructor(
    private readonly session: Session,
    private readonly jobs: JobNotes,
    private readonly options: Pick<FeatureOptions, "abilities" | "folders">,
  ) {}

  /** Undefined where no comeback is asked about, so that others answer. */
  definition(
    params: DefinitionParams,
    token: CancellationToken,
  ): Promise<LocationLink[] | Location[] | null> | undefined {
    const asked = this.#at(params);
    if (!asked) return undefined;
    return this.#find(asked.comeback, asked.checked.target.uri, token).then((notes) => {
      if (notes.length === 0) return null;
      if (!this.options.abilities.definitionLinks)
        return notes.map(({ uri, place }): Location => ({ uri, range: place }));
      const { target } = asked.checked;
      const originSelectionRange = toRange(target.lines, asked.comeback.range);
      return notes.map(
        ({ uri, place }): LocationLink => ({
          originSelectionRange,
          targetUri: uri,
          targetRange: place,
          targetSelectionRange: place,
        }),
      );
    });
  }

  /** Undefined where no comeback is asked about. */
  hover(params: HoverParams, token: CancellationToken): Promise<Hover> | undefined {
    const asked = this.#at(params);
    if (!asked) return undefined;
    const { comeback, checked } = asked;
    const { abilities, folders } = this.options;
    return this.#find(comeback, checked.target.uri, token).then((notes) => {
      const shown = shownPaths(folders());
      const card = firstJobCard(
        comeback,
        notes.map(({ uri, fields }) => ({ path: shown(uri), fields })),
      );
      return toHover({ range: comeback.range, card }, checked.target, abilities.markdown);
    });
  }

  /** The link of a note to its first job. Where it leads is looked up when somebody follows it. */
  links(uri: string): DocumentLink[] {
    const checked = this.session.checked(uri);
    const comeback = checked && comebackOf(checked.analysis.note);
    if (!checked || !comeback) return [];
    const data: LinkData = { comeback: comeback.job, of: uri };
    return [
      {
        range: toRange(checked.target.lines, comeback.range),
        tooltip: "Open the note of the first job",
        data,
      },
    ];
  }

  async resolveLink(link: DocumentLink, token: CancellationToken): Promise<DocumentLink> {
    const data: unknown = link.data;
    if (!isLinkData(data)) return link;
    const [first] = (await this.jobs.find(data.comeback, data.of, () => token.isCancellationRequested)) ?? [];
    return first ? { ...link, target: first.uri } : link;
  }

  #at({
    textDocument,
    position,
  }: HoverParams | DefinitionParams):
    | { readonly comeback: Comeback; readonly checked: CheckedNote }
    | undefined {
    const checked = this.session.checked(textDocument.uri);
    const note = checked?.analysis.note;
    const comeback = note && comebackAt(note, fromPosition(note, position));
    return checked && comeback ? { comeback, checked } : undefined;
  }

  async #find({ job }: Comeback, uri: string, token: CancellationToken): Promise<readonly JobNote[]> {
    return (await this.jobs.find(job, uri, () => token.isCancellationRequested)) ?? [];
  }
}

const isLinkData = (data: unknown): data is LinkData =>
  typeof data === "object" &&
  data !== null &&
  "comeback" in data &&
  typeof data.comeback === "string" &&
  "of" in data &&
  typeof data.of === "string";
