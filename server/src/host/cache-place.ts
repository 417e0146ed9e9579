import { createHash } from "node:crypto";
import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { isFile, SHOP_FILE } from "./nearest-shop.ts";
import { Pack } from "./pack.ts";

/**
 * Where results are kept between runs: the user's own cache folder, so that a folder of notes is never
 * written to by a program that was only asked a question, and a share that is read-only works as well.
 */
export interface CachePlace {
  readonly folder: string;
  /** Names the program, so that results of another build are never taken for its own. */
  readonly build: () => string;
}

type Environment = Readonly<Record<string, string | undefined>>;

/**
 * `WITNESS_MARK_CACHE` names the folder, or says `off`. Else the platform's own: XDG_CACHE_HOME or ~/.cache,
 * ~/Library/Caches, LOCALAPPDATA. Undefined where there is none.
 *
 * @param programFolder holds the bundles
 */
export function cachePlace(
  environment: Environment,
  platform: NodeJS.Platform,
  programFolder: string,
): CachePlace | undefined {
  const asked = environment.WITNESS_MARK_CACHE;
  if (asked === "off") return undefined;
  const folder = asked || usualFolder(environment, platform);
  return folder ? { folder, build: () => buildOf(programFolder) } : undefined;
}

function usualFolder(environment: Environment, platform: NodeJS.Platform): string | undefined {
  const { XDG_CACHE_HOME, LOCALAPPDATA, HOME } = environment;
  const base =
    platform === "win32"
      ? LOCALAPPDATA
      : platform === "darwin"
        ? HOME && join(HOME, "Library", "Caches")
        : XDG_CACHE_HOME || (HOME && join(HOME, ".cache"));
  return base ? join(base, "witness-mark") : undefined;
}

/** The bundles that decide what comes of a note. */
const DECIDING = ["checker", "base", "reporting", "procedures", "yaml", "markdown", "logs"];

/** The same for the same program: a hash of all that decides on a result. */
function buildOf(folder: string): string {
  const hash = createHash("sha256");
  for (const name of DECIDING) {
    const path = join(folder, `${name}.js`);
    if (existsSync(path)) hash.update(name).update(readFileSync(path));
  }
  return `${hash.digest("hex")} ${process.version}`;
}

/** The folder that a shop's notes share: that of the shop file, else of the repository, else the one asked for. */
export function rootOf(folder: string): string {
  for (let at = folder; ; at = dirname(at)) {
    if (isFile(join(at, SHOP_FILE)) || existsSync(join(at, ".git"))) return at;
    if (dirname(at) === at) return folder;
  }
}

/** What is kept of one kind for the notes under a root. */
export function openPack({ folder, build }: CachePlace, kind: string, root: string): Pack {
  const name = createHash("sha256").update(root).digest("hex").slice(0, 24);
  return Pack.open(join(folder, `${kind}-${name}.pack`), build());
}
