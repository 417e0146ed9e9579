/**
 * How a job sheet looks, in the editor's preview and on a page of its own. Colours come from the theme, with
 * plain ink on white where there is none. No colour carries a meaning: a sheet is read in black and white too.
 */
export const SHEET_STYLE = `.wm-sheet {
  --wm-ink: var(--vscode-editor-foreground, #1b1f24);
  --wm-faint: var(--vscode-descriptionForeground, #57606a);
  --wm-rule: var(--vscode-editorWidget-border, var(--vscode-contrastBorder, #c4cbd2));
  --wm-plot: var(--vscode-textLink-foreground, #1f4e79);
  margin: 1em 0 1.4em;
  color: var(--wm-ink);
  font-variant-numeric: tabular-nums;
  overflow-x: auto;
}

.wm-sheet .wm-table {
  width: 100%;
  border-collapse: collapse;
  margin: 0;
}

.wm-sheet .wm-table caption,
.wm-sheet figcaption {
  text-align: left;
  font-weight: 600;
  padding: 0 0 0.3em;
}

.wm-sheet .wm-table th,
.wm-sheet .wm-table td {
  border: 0;
  border-bottom: 1px solid var(--wm-rule);
  padding: 0.3em 0.6em 0.3em 0;
  text-align: left;
  vertical-align: top;
  font-weight: normal;
}

.wm-sheet .wm-table thead th {
  border-bottom: 2px solid var(--wm-rule);
  color: var(--wm-faint);
  font-size: 0.9em;
}

.wm-sheet .wm-table tbody th {
  font-weight: 600;
}

.wm-sheet .wm-table .wm-number {
  text-align: right;
  white-space: nowrap;
}

.wm-sheet .wm-table code {
  padding: 0;
  color: inherit;
  background: none;
  white-space: pre-wrap;
  overflow-wrap: anywhere;
}

.wm-sheet .wm-table td:last-child {
  overflow-wrap: anywhere;
}

.wm-sheet .wm-limits .wm-number {
  white-space: normal;
}

.wm-sheet .wm-limits .wm-verdict {
  min-width: 6em;
}

.wm-sheet .wm-readings .wm-number {
  width: 1%;
}

.wm-sheet .wm-remark,
.wm-sheet .wm-until,
.wm-sheet .wm-missing,
.wm-sheet .wm-rule {
  color: var(--wm-faint);
  font-size: 0.9em;
  font-weight: normal;
}

.wm-sheet .wm-rule {
  white-space: nowrap;
}

.wm-sheet .wm-findings {
  list-style: none;
  margin: 0.2em 0;
  padding: 0;
}

.wm-sheet .wm-findings p {
  margin: 0.2em 0;
  padding-left: 0.7em;
  border-left: 2px solid var(--wm-rule);
}

.wm-sheet .wm-findings p.wm-error {
  border-left: 5px double var(--wm-ink);
}

.wm-sheet .wm-findings p.wm-warning {
  border-left: 3px dashed var(--wm-ink);
}

.wm-sheet .wm-mark {
  display: inline-block;
  vertical-align: -0.1em;
  height: 0.85em;
  width: 1.15em;
}

.wm-sheet .wm-facts {
  display: grid;
  grid-template-columns: repeat(auto-fill, minmax(11em, 1fr));
  gap: 0.5em 1.4em;
  margin: 0.6em 0;
}

.wm-sheet .wm-facts div {
  break-inside: avoid;
}

.wm-sheet .wm-facts dt {
  color: var(--wm-faint);
  font-size: 0.9em;
  font-weight: normal;
}

.wm-sheet .wm-facts dd {
  margin: 0;
}

.wm-sheet .wm-heading,
.wm-sheet.wm-heading {
  border-top: 3px solid var(--wm-ink);
  border-bottom: 1px solid var(--wm-rule);
  padding: 0.5em 0;
}

.wm-sheet .wm-job {
  font-size: 1.15em;
  margin: 0;
}

.wm-sheet .wm-tally {
  margin: 0.3em 0;
}

.wm-sheet .wm-steps .wm-time {
  position: relative;
  padding-left: 1.4em;
  white-space: nowrap;
  width: 1%;
}

.wm-sheet .wm-steps .wm-step .wm-time::before {
  content: "";
  position: absolute;
  left: 0.4em;
  top: 0;
  bottom: 0;
  border-left: 2px solid var(--wm-ink);
}

.wm-sheet .wm-steps .wm-step .wm-time::after {
  content: "";
  position: absolute;
  left: 0.1em;
  top: 0.95em;
  width: 0.75em;
  border-top: 2px solid var(--wm-ink);
}

.wm-sheet .wm-steps .wm-todo .wm-time::before {
  border-left: 2px dotted var(--wm-faint);
}

.wm-sheet .wm-steps .wm-todo .wm-time::after {
  border: 0;
}

.wm-sheet .wm-steps .wm-todo .wm-time {
  font-style: italic;
}

.wm-sheet .wm-steps .wm-day th {
  padding-top: 0.8em;
}

.wm-sheet .wm-figure {
  margin: 0;
}

.wm-sheet .wm-plot {
  display: block;
  width: 100%;
  max-width: 44em;
  height: auto;
  color: var(--wm-ink);
}

.wm-sheet .wm-plot .wm-line,
.wm-sheet .wm-plot .wm-dots {
  color: var(--wm-plot);
}

/* The editor marks its page so while a high-contrast theme is on. */
.vscode-high-contrast .wm-sheet {
  --wm-faint: var(--wm-ink);
  --wm-rule: var(--vscode-contrastBorder, var(--wm-ink));
  --wm-plot: var(--wm-ink);
}

.vscode-high-contrast .wm-sheet .wm-plot .wm-grid {
  stroke-opacity: 0.5;
}

.vscode-high-contrast .wm-sheet .wm-plot .wm-line {
  stroke-width: 2.5;
}

@media print {
  .wm-sheet {
    --wm-ink: #000;
    --wm-faint: #333;
    --wm-rule: #999;
    --wm-plot: #000;
    font-size: 9.5pt;
  }

  .wm-sheet .wm-table thead {
    display: table-header-group;
  }

  .wm-sheet .wm-table tr,
  .wm-sheet .wm-figure,
  .wm-sheet .wm-findings li {
    break-inside: avoid;
  }

  .wm-sheet .wm-rows {
    display: none;
  }
}
`;
