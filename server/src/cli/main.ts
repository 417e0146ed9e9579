import { readFileSync } from "node:fs";
import { join } from "node:path";
import { cachePlace } from "../host/cache-place.ts";
import { lazyBase } from "../host/lazy-base.ts";
import { lazyChecker } from "../host/lazy-checker.ts";
import { lazySheet } from "../host/lazy-sheet.ts";
import { lazyLibraries } from "../host/libraries.ts";
import { harmless } from "../report/display-width.ts";
import { EXIT } from "./outside.ts";
import { run } from "./program.ts";

function sayFault(fault: unknown): void {
  const message = fault instanceof Error ? fault.message : String(fault);
  process.stderr.write(
    `Witness Mark has a fault of its own and had to stop (${harmless(message)}). Please report this together with what you asked of it.\n`,
  );
}

// When the reader at the other end of a pipe has seen enough (`witness-mark check | head`), that is no fault.
for (const stream of [process.stdout, process.stderr]) {
  stream.on("error", (fault: NodeJS.ErrnoException) => {
    if (fault.code !== "EPIPE") throw fault;
  });
}

process.on("uncaughtException", (fault) => {
  sayFault(fault);
  process.exit(EXIT.failed);
});

function startServer(): void {
  const chosen = process.argv.some((argument) => /^--(?:stdio|node-ipc|socket|pipe)(?:=|$)/.test(argument));
  if (!chosen) process.argv.push("--stdio");
  require("./server.js");
}

function today(): string {
  const now = new Date();
  const two = (number: number): string => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

run(process.argv.slice(2), {
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
  folder: process.cwd(),
  environment: process.env,
  terminal: process.stdout.isTTY ? { columns: process.stdout.columns } : undefined,
  libraries: lazyLibraries,
  checker: lazyChecker,
  sheets: lazySheet,
  searchScript: () => readFileSync(join(__dirname, "site-search.js"), "utf8"),
  base: lazyBase,
  cache: cachePlace(process.env, process.platform, __dirname),
  // The line is drawn over itself; what follows starts on an empty one.
  progress: process.stderr.isTTY ? (line) => process.stderr.write(`\r\u001b[K${line}`) : undefined,
  today,
  // With fewer notes, a thread of its own takes longer to warm up than it saves.
  helpers: { script: join(__dirname, "worker.js"), from: 4000 },
  startServer,
}).then(
  (status) => {
    // Setting the status, not leaving at once, lets output into a slow pipe come to its end.
    if (status !== undefined) process.exitCode = status;
  },
  (fault) => {
    sayFault(fault);
    process.exitCode = EXIT.failed;
  },
);
