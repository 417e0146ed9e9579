/** What a job sheet on a page of its own needs besides: paper, type, pictures and lines to sign on. */
export const PAGE_STYLE = `
body {
  margin: 0;
  background: #fff;
  color: #1b1f24;
  font: 15px/1.5 system-ui, "Segoe UI", "DejaVu Sans", sans-serif;
}

.wm-page,
.wm-foot {
  box-sizing: border-box;
  max-width: 55rem;
  margin: 0 auto;
  padding: 1em 1.5em;
}

.wm-page h1,
.wm-page h2,
.wm-page h3 {
  line-height: 1.25;
  break-after: avoid;
}

.wm-page h1.wm-job {
  font-weight: normal;
}

.wm-page h2 {
  font-size: 1.15em;
  margin: 1.2em 0 0.4em;
}

.wm-page img {
  max-width: 100%;
  max-height: 110mm;
}

.wm-page pre {
  white-space: pre-wrap;
}

.wm-page code,
.wm-page pre {
  font-family: ui-monospace, "DejaVu Sans Mono", monospace;
  font-size: 0.92em;
}

.wm-cautions {
  border: 2px solid #1b1f24;
  padding: 0.2em 1em;
  margin: 1em 0;
  break-inside: avoid;
}

.wm-photos ul {
  list-style: none;
  padding: 0;
  display: grid;
  grid-template-columns: 1fr 1fr;
  gap: 1em;
}

.wm-photos figure {
  margin: 0;
  break-inside: avoid;
}

.wm-signatures {
  display: flex;
  gap: 2em;
  margin-top: 3em;
  break-inside: avoid;
}

.wm-signatures div {
  flex: 1;
}

.wm-signatures .wm-line {
  display: block;
  height: 2.5em;
  border-bottom: 1px solid #1b1f24;
}

.wm-signatures p {
  margin: 0.2em 0;
}

.wm-foot,
.wm-date {
  color: #57606a;
  font-size: 0.85em;
}

@page {
  margin: 16mm 15mm;
}

@media print {
  body {
    font-size: 10pt;
  }

  .wm-page,
  .wm-foot {
    max-width: none;
    padding: 0;
  }
}
`;
