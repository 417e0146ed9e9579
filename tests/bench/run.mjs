// Measures what the project promises about speed and size, each beside a named baseline in the same minutes:
// a figure alone says more about the computer than about the program. Never part of the tests, since a time
// on a busy computer proves nothing.
//
//   npm run build && npm run bench [-- --only keystroke,answers,start,check,base,pages,size] [--notes 1000,10000] [--runs 5]
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { gzipSync } from "node:zlib";
import { build } from "esbuild";
import { browserEntries, entries } from "../../server/build/bundles.mjs";
import { measureAnswers } from "./answers.mjs";
import { measureBulkCheck } from "./bulk-check.mjs";
import { figures, printTable, verdict } from "./figures.mjs";
import { measureKeystrokes } from "./keystroke.mjs";
import { measureKnowledgeBase } from "./knowledge-base.mjs";
import { measurePages } from "./pages.mjs";
import { measureStartUp } from "./start-up.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, "../..");
const dist = (name) => join(root, "dist", name);

const { values: options } = parseArgs({
  options: {
    only: { type: "string", default: "size,start,keystroke,answers,check,base,pages" },
    notes: { type: "string", default: "1000,10000" },
    runs: { type: "string", default: "5" },
  },
});
const wanted = new Set(options.only.split(","));
const runs = Number(options.runs);

const temporary = mkdtempSync(join(tmpdir(), "witness-mark-bench-"));
try {
  await build({
    entryPoints: { bare: join(here, "bare-server.mjs") },
    outdir: temporary,
    bundle: true,
    minify: true,
    platform: "node",
    target: "node20",
    format: "cjs",
    mainFields: ["module", "main"],
    logLevel: "warning",
  });
  await build({
    entryPoints: { notes: join(here, "../generate/notes.ts") },
    outdir: temporary,
    outExtension: { ".js": ".mjs" },
    bundle: true,
    format: "esm",
    logLevel: "warning",
  });
  const { generateNotes, generateLongNote } = await import(pathToFileURL(join(temporary, "notes.mjs")).href);
  const server = dist("server.js");
  const bareServer = join(temporary, "bare.js");

  const results = { node: process.version, processor: cpus()[0]?.model, processors: cpus().length };
  if (wanted.has("size")) results.sizes = measureSizes();
  if (wanted.has("start")) results.start = await measureStartUp({ server, bareServer, runs });
  if (wanted.has("keystroke"))
    results.keystroke = await measureKeystrokes({ server, bareServer, generateLongNote });
  if (wanted.has("answers")) results.answers = await measureAnswers({ server, bareServer, generateLongNote });
  if (wanted.has("check")) {
    results.check = measureBulkCheck({
      cli: dist("cli.js"),
      linter: join(root, "node_modules/markdownlint-cli2/markdownlint-cli2-bin.mjs"),
      readOnly: join(here, "read-only.mjs"),
      generateNotes,
      sizes: options.notes.split(",").map(Number),
      runs,
    });
  }
  if (wanted.has("base")) {
    await build({
      entryPoints: { base: join(here, "base-in-process.ts") },
      outdir: temporary,
      outExtension: { ".js": ".mjs" },
      bundle: true,
      platform: "node",
      format: "esm",
      banner: {
        js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);",
      },
      logLevel: "warning",
    });
    const { loadBase } = await import(pathToFileURL(join(temporary, "base.mjs")).href);
    results.base = await measureKnowledgeBase({
      cli: dist("cli.js"),
      readOnly: join(here, "read-only.mjs"),
      generateNotes,
      loadBase,
      notes: Math.max(...options.notes.split(",").map(Number)),
      runs,
    });
  }
  if (wanted.has("pages")) {
    const sizes = options.notes.split(",").map(Number);
    results.pages = measurePages({ cli: dist("cli.js"), generateNotes, sizes });
  }
  mkdirSync(join(root, ".cache"), { recursive: true });
  writeFileSync(join(root, ".cache/bench.json"), `${JSON.stringify(results, null, 2)}\n`);
} finally {
  rmSync(temporary, { recursive: true, force: true });
}

function measureSizes() {
  const aims = { "server.js": 400 };
  // When each is loaded; the server and the command line are small, since they load the checker in turn. The
  // aim is for what stands before the first reply; what the server loads later is told beside it.
  const loaded = {
    "server.js": "before the first reply",
    "checker.js": "after it; also by cli.js",
    "procedures.js": "with the first note",
    "yaml.js": "with the first shop file or unusual front matter",
    "markdown.js": "with the first link, or fence in a list or quote",
    "logs.js": "with the first series that takes its rows from a file",
    "cli.js": "by the command line",
    "worker.js": "by its threads",
    "reporting.js": "by its reports for other programs",
    "sheet.js": "by its job sheets",
    "base.js": "by its search and statistics",
    "client.js": "by the editor",
    "preview.js": "with the first preview",
    "browser.js": "by an editor in a browser",
    "browser-server.js": "by its server, with all that it needs",
  };
  const made = [...Object.keys(entries), ...Object.keys(browserEntries)].map((name) => `${name}.js`);
  const told = Object.keys(loaded).filter((name) => made.includes(name));
  const sizes = [...told, ...made.filter((name) => !(name in loaded))].map((name) => ({
    name,
    loaded: loaded[name] ?? "",
    kib: statSync(dist(name)).size / 1024,
    zipped: gzipSync(readFileSync(dist(name))).length / 1024,
    most: aims[name],
  }));
  printTable(
    "Bundles, KiB minified",
    ["", "loaded", "minified", "gzipped", "aim", ""],
    sizes.map(({ name, loaded: when, kib, zipped, most }) => [
      name,
      when,
      figures(kib),
      figures(zipped),
      most ?? "",
      verdict(most && kib <= most),
    ]),
  );
  return sizes;
}
