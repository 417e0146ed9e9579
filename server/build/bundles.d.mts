import type { Metafile } from "esbuild";

export type BundleName =
  | "client"
  | "server"
  | "cli"
  | "worker"
  | "checker"
  | "procedures"
  | "yaml"
  | "markdown"
  | "logs"
  | "reporting"
  | "base"
  | "preview"
  | "sheet";

/** Source file of each bundle. */
export const entries: Readonly<Record<BundleName, string>>;

/** Makes bundles in a folder and gives their sizes in bytes, by name. */
export function makeBundles(
  outdir: string,
  options?: { readonly names?: readonly BundleName[]; readonly minify?: boolean },
): Promise<Readonly<Record<string, number>>>;

export type BrowserBundleName = "browser" | "browser-server" | "site-search";

/** Source file of each bundle for a browser. */
export const browserEntries: Readonly<Record<BrowserBundleName, string>>;

/** Makes the bundles for a browser and gives what went into each, by name. */
export function makeBrowserBundles(
  outdir: string,
  options?: { readonly minify?: boolean },
): Promise<Readonly<Record<BrowserBundleName, Metafile>>>;
