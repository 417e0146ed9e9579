import { lookOver } from "../ide/look-over.ts";
import { newNoteSnippet } from "../ide/new-note.ts";
import type { Procedure } from "../procedures/procedure.ts";
import type { HandedShops } from "./handed-shops.ts";
import type {
  Look,
  LookParams,
  NewNoteParams,
  OfferedProcedure,
  ProceduresParams,
  ShopParams,
} from "./own-messages.ts";
import type { Session } from "./session.ts";
import { toRange } from "./to-protocol.ts";

/** Answers to what the editor's extension asks beyond the protocol. */
export class OwnRequests {
  constructor(
    private readonly session: Session,
    private readonly shops: HandedShops,
  ) {}

  procedures(params: ProceduresParams): OfferedProcedure[] {
    return [...this.#procedures(params)].map(([, { id, title, covers }]) => ({ id, title, covers }));
  }

  newNote(params: NewNoteParams): string | null {
    const procedure = this.#procedures(params).get(params.procedure);
    return procedure ? newNoteSnippet({ procedure, job: params.job, date: params.date }) : null;
  }

  #procedures({ near }: ProceduresParams): ReadonlyMap<string, Procedure> {
    const file = near === undefined ? undefined : this.shops.shopFile(near);
    return (file?.shop ?? this.shops.noShop).procedures;
  }

  look({ uri, text }: LookParams): Look | null {
    const checked =
      this.session.checked(uri) ?? (text === undefined ? undefined : this.session.read(uri, text));
    if (!checked) return null;
    const { analysis, target } = checked;
    const { job, subject, status, stepsToDo, findings } = lookOver(analysis);
    return {
      ...(job === undefined ? {} : { job }),
      ...(subject === undefined ? {} : { subject }),
      ...(status === undefined ? {} : { status }),
      stepsToDo,
      findings: findings.map(({ rule, severity, message, advice, range, accepted }) => ({
        rule,
        severity,
        message,
        advice,
        range: toRange(target.lines, range),
        ...(accepted === undefined ? {} : { accepted }),
      })),
    };
  }

  shop(params: ShopParams): void {
    this.shops.hand(params);
  }
}
