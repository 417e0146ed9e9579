import { existsSync, statSync } from "node:fs";
import { dirname, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { Surroundings } from "../check/analyze.ts";
import { readShop } from "../check/read-shop.ts";
import { findTexts } from "../host/find-texts.ts";
import type { Libraries } from "../host/libraries.ts";
import { logHeads, logsBeside } from "../host/log-files.ts";
import { ShopFinder } from "../host/nearest-shop.ts";
import { readText } from "../host/read-text.ts";
import { surroundingsOf } from "../host/surroundings.ts";
import { type LogFiles, NO_LOG_FILES } from "../ide/completion/place.ts";
import { MAX_BYTES } from "../note/longest.ts";
import type { Note } from "../note/note.ts";
import type { LogReading, LogRequest } from "../note/series-log.ts";
import { noShop } from "../shop/read-shop.ts";
import type { Shop } from "../shop/shop.ts";
import type { Files, ShopFile } from "./files.ts";
import type { OpenShop, OpenShops } from "./open-shops.ts";

/** Logs that are kept: while a line that asks for one is typed, each version of it is another request. */
const MOST_LOGS = 8;

/**
 * The files round the open notes. The only part of the server that looks at the disk; what it saw it
 * remembers, so that a keystroke costs no look. Notes that are no files (untitled, from a virtual file
 * system) simply have no shop and no links to check.
 */
export class Workspace implements Files {
  #none: Shop | undefined;
  readonly #shops = new Map<string, ShopFile>();
  readonly #seen = new Map<string, boolean>();
  readonly #logs = new Map<string, { path: string; stamp: string; reading: LogReading }>();
  #finder = this.#newFinder();

  constructor(
    private readonly libraries: Libraries,
    private readonly open?: OpenShops,
  ) {}

  /** The nearest shop file; undefined where there is none or it cannot be read. */
  shopFile(uri: string): ShopFile | undefined {
    const folder = folderOf(uri);
    const path = folder === undefined ? undefined : this.#finder.find(folder);
    if (path === undefined) return undefined;
    const known = this.#shops.get(path);
    if (known) return known;
    const found = this.#shopText(path);
    if (!found) return undefined;
    const shop = readShop(found.text, this.libraries.yaml, this.libraries.procedures());
    const read = { ...found, shop };
    this.#shops.set(path, read);
    return read;
  }

  shopAt(uri: string): ShopFile | undefined {
    return this.shopFile(uri);
  }

  #shopText(path: string): Omit<ShopFile, "shop"> | undefined {
    const open = this.#openShop(path);
    if (open) {
      const { uri, text } = open;
      return text.length > MAX_BYTES ? undefined : { uri, text, stamp: openStamp(open) };
    }
    const stamp = stampOf(path);
    const reading = readText(path);
    return reading.ok ? { uri: pathToFileURL(path).href, text: reading.text, stamp } : undefined;
  }

  #openShop(path: string): OpenShop | undefined {
    // Editors write the same address in more than one way, so that paths are compared.
    return this.open?.all().find(({ uri }) => pathOf(uri) === path);
  }

  #newFinder(): ShopFinder {
    return new ShopFinder((path) => this.#openShop(path) !== undefined);
  }

  get noShop(): Shop {
    this.#none ??= noShop(this.libraries.procedures());
    return this.#none;
  }

  surroundings(uri: string, note: Note): Surroundings {
    const folder = folderOf(uri);
    if (folder === undefined) return {};
    return surroundingsOf(note, folder, (request) => this.#log(request, folder), this.#exists);
  }

  logFiles(uri: string): LogFiles {
    const folder = folderOf(uri);
    if (folder === undefined) return NO_LOG_FILES;
    return {
      beside: () => logsBeside(folder),
      heads: (log) => logHeads(log, folder, this.#rootOf(folder)),
    };
  }

  /** Nothing outside it is read: the shop file's folder, else the note's own. */
  #rootOf(folder: string): string {
    const shop = this.#finder.find(folder);
    return shop === undefined ? folder : dirname(shop);
  }

  /** A log as it was when it was read; a long one is not read again at every keystroke. */
  #log(request: LogRequest, folder: string): LogReading {
    const key = `${folder}\n${request.key}`;
    const known = this.#logs.get(key);
    if (known) return known.reading;
    const reading = this.libraries.logs(request, folder, this.#rootOf(folder));
    const path = resolve(folder, request.path);
    const [oldest] = this.#logs.keys();
    if (oldest !== undefined && this.#logs.size >= MOST_LOGS) this.#logs.delete(oldest);
    this.#logs.set(key, { path, stamp: stampOf(path), reading });
    return reading;
  }

  /** Forgets what may have changed on the disk. Gives back the shop files that have. */
  lookAgain(): ShopFile[] {
    this.#finder = this.#newFinder();
    this.#seen.clear();
    for (const [key, { path, stamp }] of this.#logs) if (stampOf(path) !== stamp) this.#logs.delete(key);
    const changed: ShopFile[] = [];
    for (const [path, file] of this.#shops) {
      const open = this.#openShop(path);
      if ((open ? openStamp(open) : stampOf(path)) === file.stamp) continue;
      this.#shops.delete(path);
      changed.push(file);
    }
    return changed;
  }

  markdownIn(folders: readonly string[]): readonly string[] {
    const paths = folders.flatMap((uri) => pathOf(uri) ?? []);
    return findTexts(paths, "/").notes.map((path) => pathToFileURL(path).href);
  }

  reads(uri: string): boolean {
    return uri.startsWith("file:");
  }

  stamp(uri: string): string {
    const path = pathOf(uri);
    return path === undefined ? "" : stampOf(path);
  }

  text(uri: string): string | undefined {
    const path = pathOf(uri);
    const reading = path === undefined ? undefined : readText(path);
    return reading?.ok ? reading.text : undefined;
  }

  readonly #exists = (path: string): boolean => {
    const known = this.#seen.get(path);
    if (known !== undefined) return known;
    const found = existsSync(path);
    this.#seen.set(path, found);
    return found;
  };
}

function folderOf(uri: string): string | undefined {
  const path = pathOf(uri);
  return path === undefined ? undefined : dirname(path);
}

function pathOf(uri: string): string | undefined {
  if (!uri.startsWith("file:")) return undefined;
  try {
    return fileURLToPath(uri);
  } catch {
    // A file address that this system cannot have, such as one with a host name.
    return undefined;
  }
}

const openStamp = ({ version }: OpenShop): string => `open ${version}`;

/** Tells one state of a file from the next; empty where it is gone. */
function stampOf(path: string): string {
  const stat = statSync(path, { throwIfNoEntry: false });
  return stat ? `${stat.mtimeMs} ${stat.size}` : "";
}
