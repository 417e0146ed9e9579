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
  | "preview";

/** Source file of each bundle. */
export const entries: Readonly<Record<BundleName, string>>;

/** Makes bundles in a folder and gives their sizes in bytes, by name. */
export function makeBundles(
  outdir: string,
  options?: { readonly names?: readonly BundleName[]; readonly minify?: boolean },
): Promise<Readonly<Record<string, number>>>;
