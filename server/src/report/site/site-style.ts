/** The mark across a line, for the tab of the browser. */
export const SITE_ICON = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 16 16"><rect width="16" height="16" fill="#fcfbf7"/><path d="M0 9h16" stroke="#18202a" stroke-width="2"/><path d="M6 14l4-11" stroke="#1c4a78" stroke-width="3"/></svg>
`;

/**
 * How the site looks: paper and ink, one blue for what can be followed, by day and by night. The stroke across
 * the line under the head is the mark that a fitter paints across a bolt and its seat. No colour carries a
 * meaning, and a page prints in black on white without what is only for finding the way.
 */
export const SITE_STYLE = `
:root {
  --ink: #18202a;
  --faint: #4c5763;
  --paper: #fcfbf7;
  --band: #efece3;
  --line: #c8c4b8;
  --follow: #1c4a78;
}

@media (prefers-color-scheme: dark) {
  :root {
    --ink: #e8e5dc;
    --faint: #b1b7bf;
    --paper: #14191f;
    --band: #1f262e;
    --line: #434c57;
    --follow: #a3c8ee;
  }
}

@media screen {
  .wm-sheet {
    --wm-ink: var(--ink);
    --wm-faint: var(--faint);
    --wm-rule: var(--line);
    --wm-plot: var(--follow);
  }
}

* {
  box-sizing: border-box;
}

body {
  margin: 0;
  background: var(--paper);
  color: var(--ink);
  font: 1rem/1.5 system-ui, "Segoe UI", "DejaVu Sans", sans-serif;
}

a {
  color: var(--follow);
}

a:focus-visible,
button:focus-visible,
input:focus-visible,
[tabindex]:focus-visible {
  outline: 3px solid var(--follow);
  outline-offset: 2px;
}

#main:focus {
  outline: none;
}

.skip {
  position: absolute;
  left: -100rem;
}

.skip:focus {
  left: 1rem;
  top: 0.5rem;
  background: var(--paper);
  padding: 0.3rem 0.6rem;
  z-index: 1;
}

.head {
  position: relative;
  display: flex;
  flex-wrap: wrap;
  align-items: baseline;
  gap: 0.4rem 2rem;
  padding: 1rem max(1.5rem, calc((100% - 72rem) / 2)) 0.9rem;
  border-bottom: 3px solid var(--ink);
  background: var(--band);
}

.head::after {
  content: "";
  position: absolute;
  bottom: -11px;
  left: max(1.5rem, calc((100% - 72rem) / 2));
  width: 7px;
  height: 19px;
  background: var(--follow);
  transform: skewX(-14deg);
}

.head .name {
  margin: 0;
  font: 700 1.25rem/1.2 Charter, "Bitstream Charter", Georgia, "DejaVu Serif", serif;
}

.head .name a {
  color: inherit;
  text-decoration: none;
}

.head ul {
  display: flex;
  flex-wrap: wrap;
  gap: 0.2rem 1.2rem;
  margin: 0;
  padding: 0;
  list-style: none;
}

.head [aria-current] {
  color: inherit;
  text-decoration-thickness: 3px;
}

.head form {
  margin-left: auto;
}

input,
button {
  font: inherit;
  color: inherit;
  background: var(--paper);
  border: 1px solid var(--faint);
  border-radius: 0;
  padding: 0.25rem 0.5rem;
}

button {
  background: var(--band);
  cursor: pointer;
}

.search label {
  display: block;
}

.search input {
  width: min(32rem, 70%);
}

main,
.foot {
  max-width: 75rem;
  margin: 0 auto;
  padding: 1rem 1.5rem;
}

h1,
h2,
h3 {
  font-family: Charter, "Bitstream Charter", Georgia, "DejaVu Serif", serif;
  line-height: 1.2;
  break-after: avoid;
}

h1 {
  font-size: 1.7rem;
  margin: 0.6rem 0;
}

h2 {
  font-size: 1.25rem;
  margin: 1.6rem 0 0.4rem;
}

.lead {
  font-size: 1.1rem;
}

.scroll {
  overflow-x: auto;
}

.list {
  border-collapse: collapse;
  width: 100%;
  font-variant-numeric: tabular-nums;
}

.list caption {
  text-align: left;
  color: var(--faint);
  padding: 0.3rem 0;
}

.list th,
.list td {
  text-align: left;
  vertical-align: top;
  font-weight: normal;
  padding: 0.35rem 1rem 0.35rem 0;
  border-bottom: 1px solid var(--line);
}

.list thead th {
  border-bottom: 2px solid var(--ink);
  color: var(--faint);
}

.list tbody th {
  font-weight: 600;
}

.list .number {
  text-align: right;
  white-space: nowrap;
}

.list .day,
.list .job-number {
  white-space: nowrap;
}


.years {
  display: grid;
  grid-template-columns: repeat(auto-fill, minmax(11rem, 1fr));
  gap: 0.3rem 1.5rem;
  list-style: none;
  padding: 0;
}

.facts {
  display: flex;
  flex-wrap: wrap;
  gap: 0.4rem 2rem;
}

.facts dt {
  color: var(--faint);
}

.facts dd {
  margin: 0;
}

.job {
  max-width: 58rem;
}

/* The heading of the page says it already. */
.job .wm-job {
  display: none;
}

.job img {
  max-width: 100%;
  height: auto;
}

.related {
  border-left: 3px solid var(--follow);
  padding-left: 1rem;
}

.related ul {
  margin: 0;
  padding: 0;
  list-style: none;
}

.wm-cautions {
  border: 2px solid var(--ink);
  padding: 0.2rem 1rem;
  margin: 1rem 0;
  break-inside: avoid;
}

.wm-photos ul {
  display: grid;
  grid-template-columns: repeat(auto-fill, minmax(16rem, 1fr));
  gap: 1rem;
  list-style: none;
  padding: 0;
}

.wm-photos figure {
  margin: 0;
}

pre {
  background: var(--band);
  padding: 0.7rem 1rem;
  overflow-x: auto;
}

code {
  font-family: ui-monospace, "DejaVu Sans Mono", monospace;
  font-size: 0.92em;
}

#hits li {
  margin: 0.5rem 0;
}

#hits p {
  margin: 0;
  color: var(--faint);
}

.path,
.foot {
  color: var(--faint);
  font-size: 0.9rem;
}

.foot {
  margin-top: 3rem;
}

.foot p {
  border-top: 1px solid var(--line);
  padding-top: 0.6rem;
}

@page {
  margin: 16mm 15mm;
}

@media print {
  :root {
    --ink: #000;
    --faint: #333;
    --paper: #fff;
    --band: #fff;
    --line: #999;
    --follow: #000;
  }

  body {
    font-size: 10pt;
  }

  .head nav,
  .head form,
  .head::after,
  .skip,
  .search {
    display: none;
  }

  main,
  .foot,
  .head {
    max-width: none;
    padding-left: 0;
    padding-right: 0;
  }

  .scroll {
    overflow: visible;
  }

  .list thead {
    display: table-header-group;
  }

  .list tr,
  figure {
    break-inside: avoid;
  }

  pre {
    white-space: pre-wrap;
  }
}
`;
