import { BrowserMessageReader, BrowserMessageWriter, createConnection } from "vscode-languageserver/browser";
import * as base from "../base/live.ts";
import type { ServerLibraries } from "../host/libraries.ts";
import { readYaml } from "../note/yaml-library.ts";
import { builtInProcedures } from "../procedures/load.ts";
import { Features } from "./features.ts";
import { HandedShops } from "./handed-shops.ts";
import { openShopsAmong } from "./open-shops.ts";
import { CONNECTION_OPTIONS, serve } from "./serve.ts";

/**
 * The language server in a worker of a browser: one file, no disk. What a note needs from outside is handed in
 * by the client; links and logs are not looked for.
 */
declare const self: ConstructorParameters<typeof BrowserMessageReader>[0];

const libraries: ServerLibraries = {
  base: () => base,
  yaml: readYaml,
  procedures: () => builtInProcedures,
  logs: () => ({
    ok: false,
    missing: false,
    message: "Logs beside a note are not read in a browser.",
    advice: "Open the folder in an editor on the desktop.",
  }),
};

const connection = createConnection(
  new BrowserMessageReader(self),
  new BrowserMessageWriter(self),
  CONNECTION_OPTIONS,
);
serve(connection, "", (documents, options) => {
  const files = new HandedShops(libraries, openShopsAmong(documents));
  return new Features(connection, documents, options, libraries, files);
});
