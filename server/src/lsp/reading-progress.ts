import type { CancellationToken, Connection } from "vscode-languageserver";
import type { Reading } from "./notes-index.ts";

/** What takes less time than this is not worth telling, in milliseconds. */
const FIRST = 500;
const AGAIN = 200;

export interface ReadingProgress {
  readonly told: Reading;
  done(): void;
  /** Whether somebody stopped it where the progress is shown. */
  readonly stopped: () => boolean;
}

/**
 * Tells the client how far the reading of notes is, by the token that came with the question, else by one of
 * our own where the client can show such a thing.
 */
export function readingProgress(
  connection: Connection,
  token: number | string | undefined,
  showsOwn: boolean,
): ReadingProgress {
  let next = performance.now() + FIRST;
  let reporter: ReturnType<Connection["window"]["attachWorkDoneProgress"]> | undefined;
  let stop: CancellationToken | undefined;
  let asked = false;
  let ended = false;

  const begin = (): void => {
    asked = true;
    if (token !== undefined) {
      reporter = connection.window.attachWorkDoneProgress(token);
      reporter.begin(TITLE, 0, "", false);
    } else if (showsOwn) {
      connection.window
        .createWorkDoneProgress()
        .then((made) => {
          made.begin(TITLE, 0, "", true);
          stop = made.token;
          if (ended) made.done();
          else reporter = made;
        })
        // A client that will not show it is no reason not to answer.
        .catch(() => undefined);
    }
  };
  return {
    told(done, of) {
      if (performance.now() < next) return;
      next = performance.now() + AGAIN;
      if (!asked) begin();
      reporter?.report(Math.floor((100 * done) / of), `${done} of ${of}`);
    },
    done() {
      ended = true;
      reporter?.done();
    },
    stopped: () => stop?.isCancellationRequested === true,
  };
}

const TITLE = "Reading the job notes";
