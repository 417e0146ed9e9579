import { existsSync, statSync } from "node:fs";
import { dirname, join } from "node:path";

export const SHOP_FILE = "shop.yaml";

/**
 * Finds the shop file that goes with the notes of a folder: the nearest `shop.yaml`, in the folder itself
 * or above it. The search ends at a folder that holds `.git`, since a repository is a shop's own world, or
 * at the top of the disk. It does not depend on the folder that the command was started in, so that the
 * command line and the editor agree wherever they look from.
 */
export class ShopFinder {
  readonly #known = new Map<string, string | undefined>();

  /** `isOpen` tells of shop files that are not on the disk yet. */
  constructor(private readonly isOpen: (path: string) => boolean = () => false) {}

  /** Path of the shop file for notes in `folder` (absolute); undefined where there is none. */
  find(folder: string): string | undefined {
    if (this.#known.has(folder)) return this.#known.get(folder);
    const found = this.#look(folder);
    this.#known.set(folder, found);
    return found;
  }

  #look(folder: string): string | undefined {
    const candidate = join(folder, SHOP_FILE);
    if (this.isOpen(candidate) || isFile(candidate)) return candidate;
    const above = dirname(folder);
    if (above === folder || existsSync(join(folder, ".git"))) return undefined;
    return this.find(above);
  }
}

export function isFile(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isFile() ?? false;
}
