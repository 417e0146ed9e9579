import { type CancellationToken, ErrorCodes, LSPErrorCodes, ResponseError } from "vscode-languageserver";
import { CALLED_OFF } from "./called-off.ts";
import type { Features } from "./features.ts";

/** Makes the handlers of requests and of what is told, so that a fault of ours costs one answer and no more. */
export class Answering {
  /** From then on the protocol has every request refused. */
  shutDown = false;

  constructor(
    private readonly features: () => Features,
    private readonly report: (what: string, fault: unknown) => void,
  ) {}

  /** A request's handler that answers with `otherwise` when the work fails by a fault of ours. */
  readonly answer = <P, R, O>(what: string, otherwise: O, work: (features: Features, params: P) => R) => {
    return (params: P): R | O | ResponseError<never> => {
      if (this.shutDown)
        return new ResponseError<never>(ErrorCodes.InvalidRequest, "The server has been shut down.");
      try {
        return work(this.features(), params);
      } catch (fault) {
        this.report(what, fault);
        return otherwise;
      }
    };
  };

  /** The same for an answer that takes its time. */
  readonly later = <P, R, O>(
    what: string,
    otherwise: O,
    work: (features: Features, params: P, token: CancellationToken) => Promise<R | typeof CALLED_OFF>,
  ) => {
    return async (params: P, token: CancellationToken): Promise<R | O | ResponseError<never>> => {
      try {
        const made = await this.answer(what, otherwise, (to, given: P) => work(to, given, token))(params);
        return made === CALLED_OFF
          ? new ResponseError<never>(LSPErrorCodes.RequestCancelled, "Cancelled")
          : made;
      } catch (fault) {
        this.report(what, fault);
        return otherwise;
      }
    };
  };

  /** The same for what an editor tells without waiting for a reply. */
  readonly heed = <P>(what: string, work: (features: Features, params: P) => void) => {
    return (params: P): void => {
      try {
        work(this.features(), params);
      } catch (fault) {
        this.report(what, fault);
      }
    };
  };
}
