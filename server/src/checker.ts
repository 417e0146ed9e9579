/** All that needs a note, for the server and the command line alike; see `host/lazy-checker.ts`. */

export { check } from "./cli/check.ts";
export { FileChecker } from "./cli/file-checker.ts";
export { newNote } from "./cli/new.ts";
export { next } from "./cli/next.ts";
export { NoteReader } from "./cli/note-reader.ts";
export { review } from "./cli/review.ts";
export { ruleTexts } from "./cli/rule-texts.ts";
export { textconv } from "./cli/textconv.ts";
export { why } from "./cli/why.ts";
export { KeyedSource } from "./host/keyed-source.ts";
export { fromDisk } from "./host/note-source.ts";
export { Features } from "./lsp/features.ts";
export { HandedShops } from "./lsp/handed-shops.ts";
export { Workspace } from "./lsp/workspace.ts";
