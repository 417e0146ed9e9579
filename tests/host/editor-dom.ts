import type { Page } from "playwright-core";

/**
 * What the tests know of how the editor draws a document. Kept in one place because it is the editor's inside,
 * not a promise of its makers: a new editor version is adapted to here.
 */
export const dom = {
  workbench: ".monaco-workbench",
  explorerRow: ".explorer-folders-view .monaco-list-row",
  lines: ".editor-group-container.active .monaco-editor .view-lines .view-line",
  squiggle:
    ".editor-group-container.active :is(.squiggly-error, .squiggly-warning, .squiggly-info, .squiggly-hint)",
  hover: ".monaco-hover:not(.hidden) .hover-contents",
  anyHover: ":is(.monaco-hover, .workbench-hover-container):not(.hidden)",
  statusBar: "[id='workbench.parts.statusbar']",
  notification: ".notifications-toasts .notification-list-item-message",
  quickInput: ".quick-input-widget:not([style*='display: none']) input",
  quickInputWidget: ".quick-input-widget",
  quickInputRow: ".quick-input-widget .quick-input-list .monaco-list-row",
  actionRow: ".action-widget .monaco-list-row.action",
  problemsPanel: ".markers-panel",
  // Not the row that stays pinned above a long list.
  problemsRow: ".markers-panel .monaco-list-rows > .monaco-list-row",
  cursorPosition: "[id='status.editor.selection']",
  dirtyTab: ".tab.active.dirty",
  trustStatus: "[id^='status.workspaceTrust']",
} as const;

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** One run of characters that the editor draws in one style. */
export interface StyledRun {
  readonly text: string;
  /** The editor's style class for the run's token, such as `mtk6`. */
  readonly style: string;
  readonly colour: string;
}

/** The editor draws blanks as no-break spaces; a test writes plain ones. */
export function plain(text: string): string {
  return text.replaceAll("\u00a0", " ").replaceAll("\u200c", "").replaceAll("\u200b", "");
}

/** The text of the lines in view, hints included, from the top down. */
export async function visibleLines(page: Page): Promise<string[]> {
  const lines = await page.$$eval(dom.lines, (elements) =>
    elements
      .map((element) => ({ top: element.getBoundingClientRect().top, text: element.textContent ?? "" }))
      .sort((a, b) => a.top - b.top)
      .map((line) => line.text),
  );
  return lines.map(plain);
}

/** The hints in view: text that is drawn among a line's characters and is not in the document. */
export async function visibleHints(page: Page): Promise<string[]> {
  // Injected text is drawn in spans with a generated style rule, unlike the document's own tokens.
  const hints = await page.$$eval(`${dom.lines} span[class*='dyn-rule']`, (elements) =>
    elements.map((element) => element.textContent ?? ""),
  );
  return hints.map((hint) => plain(hint).trim()).filter((hint) => hint !== "");
}

/** The middle of the first place where the text is drawn; undefined when no line in view shows it. */
export function pointOf(page: Page, text: string): Promise<Point | undefined> {
  return page.evaluate(
    ({ selector, wanted }) => {
      for (const line of document.querySelectorAll(selector)) {
        const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
        const starts: { node: Node; from: number }[] = [];
        let drawn = "";
        while (walker.nextNode()) {
          starts.push({ node: walker.currentNode, from: drawn.length });
          drawn += walker.currentNode.textContent ?? "";
        }
        const at = drawn.replaceAll("\u00a0", " ").indexOf(wanted);
        if (at < 0) continue;
        const middle = at + Math.floor(wanted.length / 2);
        const holder = starts.findLast((start) => start.from <= middle);
        if (holder === undefined) continue;
        const range = document.createRange();
        range.setStart(holder.node, middle - holder.from);
        range.setEnd(holder.node, middle - holder.from + 1);
        const box = range.getBoundingClientRect();
        return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
      }
      return undefined;
    },
    { selector: dom.lines, wanted: text },
  );
}

/** How the first line that shows the text is coloured, run by run. */
export async function styledRuns(page: Page, text: string): Promise<StyledRun[]> {
  const runs = await page.evaluate(
    ({ selector, wanted }) => {
      for (const line of document.querySelectorAll(selector)) {
        if (!(line.textContent ?? "").replaceAll("\u00a0", " ").includes(wanted)) continue;
        return [...line.querySelectorAll("span[class*='mtk']")].map((span) => ({
          text: span.textContent ?? "",
          style: [...span.classList].find((name) => name.startsWith("mtk")) ?? "",
          colour: getComputedStyle(span).color,
        }));
      }
      return [];
    },
    { selector: dom.lines, wanted: text },
  );
  return runs.map((run) => ({ ...run, text: plain(run.text) }));
}

/** The rows that the Problems panel has drawn, each with its place in the whole list. */
export async function drawnProblems(page: Page): Promise<{ index: number; text: string }[]> {
  const rows = await page.$$eval(dom.problemsRow, (elements) =>
    elements.map((element) => ({
      index: Number(element.getAttribute("data-index")),
      text: element.textContent ?? "",
    })),
  );
  return rows.map((row) => ({ ...row, text: plain(row.text).replaceAll(/\s+/g, " ").trim() }));
}
