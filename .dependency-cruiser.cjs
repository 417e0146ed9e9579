// Layers, inward only: text → note → analysis → adaptors. What a layer may see is listed; all else fails CI.
const src = "^server/src";
const layer = (name, from, allowed) => ({
  name,
  severity: "error",
  comment: `${name} may only see: ${allowed.join(", ")}.`,
  from: { path: from },
  to: { path: ["^server", "^client", "^grammar"], pathNot: [from, ...allowed] },
});

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    layer("text", `${src}/text/`, []),
    layer("units", `${src}/units/`, [`${src}/text/`]),
    layer("physics", `${src}/physics/`, [`${src}/units/`]),
    layer("language", `${src}/language/`, [`${src}/text/`, "^grammar/line-language"]),
    layer("procedures", `${src}/procedures/`, [`${src}/text/`]),
    layer("note", `${src}/note/`, [`${src}/language/`, `${src}/text/`, "^grammar/line-language"]),
    // The shop's own formulas are read by the notes' grammar. What tries them, `check` hands in.
    layer("shop", `${src}/shop/`, [
      `${src}/note/`,
      `${src}/language/`,
      `${src}/procedures/`,
      `${src}/units/`,
      `${src}/physics/`,
      `${src}/text/`,
      "^grammar/line-language",
    ]),
    layer("analysis", `${src}/analysis/`, [
      `${src}/note/`,
      `${src}/shop/`,
      `${src}/language/`,
      `${src}/physics/`,
      `${src}/procedures/`,
      `${src}/units/`,
      `${src}/text/`,
    ]),
    layer("sequence", `${src}/sequence/`, [
      `${src}/analysis/`,
      `${src}/note/`,
      `${src}/shop/`,
      `${src}/language/`,
      `${src}/procedures/`,
      `${src}/units/`,
      `${src}/text/`,
    ]),
    layer("check", `${src}/check/`, [`${src}/(rules|sequence|analysis|note|shop|language|procedures)/`]),
    layer("base", `${src}/base/`, [
      `${src}/analysis/`,
      `${src}/note/`,
      `${src}/shop/`,
      `${src}/language/`,
      `${src}/physics/`,
      `${src}/procedures/`,
      `${src}/units/`,
      `${src}/text/`,
    ]),
    layer("rules", `${src}/rules/`, [
      `${src}/sequence/`,
      `${src}/analysis/`,
      `${src}/note/`,
      `${src}/shop/`,
      `${src}/language/`,
      `${src}/physics/`,
      `${src}/procedures/`,
      `${src}/units/`,
      `${src}/text/`,
    ]),
    {
      name: "core-knows-no-host",
      severity: "error",
      comment: "The core knows neither the protocol, nor the file system, nor any other part of Node.",
      from: {
        path: `${src}/(text|units|physics|language|procedures|note|shop|analysis|sequence|rules|check|base|ide)/`,
      },
      to: { dependencyTypes: ["core"] },
    },
    {
      name: "core-knows-no-protocol",
      severity: "error",
      from: {
        path: `${src}/(text|units|physics|language|procedures|note|shop|analysis|sequence|rules|check|base|ide|report)/`,
      },
      to: { path: "node_modules/(vscode|commander|picocolors)" },
    },
    {
      name: "yaml-library-is-handed-in",
      severity: "error",
      comment: "The full YAML library is a bundle of its own, loaded only when a text needs it.",
      from: { path: `${src}/(?!note/yaml-)` },
      to: { path: "node_modules/yaml/" },
    },
    {
      name: "adaptors-apart",
      severity: "error",
      comment: "The editor and the command line share the core, not each other.",
      from: { path: `${src}/lsp/` },
      to: { path: `${src}/(cli|report)/` },
    },
    {
      name: "rules-apart",
      severity: "error",
      comment: "Nothing but the registries gathers rules; the core finds them through it.",
      from: { path: `${src}/(text|units|physics|language|procedures|note|shop|analysis|sequence|base)/` },
      to: { path: `${src}/rules/` },
    },
    {
      name: "no-circles",
      severity: "error",
      from: { path: "^(server|client|grammar)/" },
      to: { circular: true, viaOnly: { dependencyTypesNot: ["type-only"] } },
    },
    {
      name: "client-is-thin",
      severity: "error",
      comment: "The client leaves the work to the server, save for the preview, which has to answer at once.",
      from: { path: "^client/" },
      to: { path: `${src}/`, pathNot: `${src}/(preview/(bundle|browser)|lsp/own-messages)\\.ts$` },
    },
    {
      name: "found",
      severity: "error",
      comment:
        "Bundles load each other by file name at run time, and browser entries are for a browser alone.",
      from: {},
      to: {
        couldNotResolve: true,
        pathNot:
          "^\\./(yaml|server|worker|checker|procedures|markdown|logs|reporting|base|preview|sheet)\\.js$|^vscode-language(client|server)/browser$",
      },
    },
  ],
  options: {
    tsPreCompilationDeps: true,
    tsConfig: { fileName: "tsconfig.json" },
    doNotFollow: { path: "node_modules" },
    exclude: { path: "(^dist/|^tests/|^esbuild\\.mjs$)" },
    enhancedResolveOptions: {
      exportsFields: ["exports"],
      conditionNames: ["import", "require", "node", "default"],
    },
  },
};
