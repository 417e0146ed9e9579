/** How much of a text is looked at to tell whether it is a job note; front matter is short. */
const LOOKED_AT = 4000;

/**
 * Whether a text is likely a job note: its front matter has `job` or `procedure`, or it has front matter and
 * one of the blocks. The server looks more closely; this only decides whether it is worth starting.
 */
export function isJobNoteText(text: string): boolean {
  const opening = /^\uFEFF?---[ \t]*\r?\n/.exec(text);
  if (!opening) return false;
  const head = text.slice(opening[0].length, opening[0].length + LOOKED_AT);
  const end = head.search(/^---[ \t]*\r?$/m);
  const frontMatter = end < 0 ? head : head.slice(0, end);
  if (/^["']?(?:job|procedure)["']?[ \t]*:/m.test(frontMatter)) return true;
  return /^[ \t>]*(?:`{3,}|~{3,})[ \t]*(?:readings|series|limits|steps)\b/m.test(text);
}
