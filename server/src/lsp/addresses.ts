/**
 * One spelling for an address, as a key: editors write `file:///c%3A/a%20b.md` and `file:///C:/a b.md` for the
 * same file. Not an address itself.
 */
export function addressKey(uri: string): string {
  let key = uri;
  try {
    key = decodeURIComponent(uri);
  } catch {
    // A stray percent sign: then it stands for itself.
  }
  return key.replace(/\/+$/, "").replace(/^file:\/\/\/[A-Z]:/, (drive) => drive.toLowerCase());
}

/** The folder of an address, without a slash at its end. */
export const folderOf = (uri: string): string => uri.slice(0, uri.lastIndexOf("/"));

export const isMarkdownKey = (key: string): boolean => /\.(?:md|markdown)$/i.test(key);

export const isBelow = (key: string, folder: string): boolean => key.startsWith(`${folder}/`);

/** Whether a search of one of the folders comes upon the file: hidden folders and libraries are passed by. */
export const isAmong = (key: string, folders: readonly string[]): boolean =>
  folders.some((folder) => {
    if (!isBelow(key, folder)) return false;
    const way = key.slice(folder.length + 1).split("/");
    return !way.slice(0, -1).some((part) => part.startsWith(".") || part === "node_modules");
  });

/**
 * How notes are called: by their path from the open folder they lie in, with the folder's name before it
 * where several are open. Two folders of the same name are told apart by a number.
 */
export function shownPaths(folders: readonly string[]): (uri: string) => string {
  const names = new Map<string, number>();
  const roots = folders.map(addressKey).map((key) => {
    const name = key.slice(key.lastIndexOf("/") + 1);
    const times = (names.get(name) ?? 0) + 1;
    names.set(name, times);
    return { key, name: times === 1 ? name : `${name} (${times})` };
  });
  // A folder inside another one that is open has its notes to itself.
  const deepest = [...roots].sort((a, b) => b.key.length - a.key.length);
  return (uri) => {
    const key = addressKey(uri);
    const root = deepest.find((one) => isBelow(key, one.key));
    if (!root) return key.slice(key.lastIndexOf("/") + 1).replace(/^untitled:/, "");
    const path = key.slice(root.key.length + 1);
    return roots.length > 1 ? `${root.name}/${path}` : path;
  };
}
