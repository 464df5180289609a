/**
 * How every sheet looks: black on white, one typeface, hairlines; weight and frames say what colours would. Sizes are
 * in points, since a sheet is made for paper; a phone scales them well.
 */
export const STYLE = `
:root { color-scheme: light; --ink: #000; --soft: #444; --line: #767676; }
* { box-sizing: border-box; }
html { background: #fff; color: var(--ink); -webkit-text-size-adjust: 100%; }
body { margin: 0 auto; max-width: 54rem; padding: 2rem 1.5rem 4rem;
  font: 100%/1.45 system-ui, "Segoe UI", "Helvetica Neue", Arial, "Noto Sans", sans-serif;
  overflow-wrap: anywhere; font-variant-numeric: tabular-nums; }
h1, h2, h3, h4, p, ul, ol, dl, dd, figure, table, fieldset { margin: 0; }
h1 { font-size: 1.75rem; line-height: 1.15; font-weight: 600; letter-spacing: -0.01em; }
h2 { font-size: 1.25rem; line-height: 1.25; font-weight: 600; }
h3 { font-size: 1.0625rem; line-height: 1.3; font-weight: 600; }
h4 { font-size: 1rem; line-height: 1.35; font-weight: 600; }
a { color: inherit; text-decoration-thickness: 1px; text-underline-offset: 0.15em; }
:focus-visible { outline: 2px solid var(--ink); outline-offset: 2px; }
.skip { position: absolute; left: -200vw; }
.skip:focus { left: 1rem; top: 0.5rem; background: #fff; padding: 0.25rem 0.5rem; }
.soft { color: var(--soft); }
.small { font-size: 0.875rem; }
.strong { font-weight: 600; }
.code { font-size: 0.8125rem; color: var(--soft); }

header > * + *, main > section > * + *, article > * + * { margin-top: 0.75rem; }
main > section { margin-top: 2.25rem; }
main > section > h2 { border-top: 1px solid var(--ink); padding-top: 0.5rem; }
footer { margin-top: 2.5rem; border-top: 2px solid var(--ink); padding-top: 1rem; }
section > section { margin-top: 1.5rem; }
section > section > * + * { margin-top: 0.5rem; }
article + article { margin-top: 1.5rem; border-top: 1px solid var(--line); padding-top: 1.25rem; }

nav ul { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: 0.125rem 1.25rem; }
nav { font-size: 0.875rem; }
nav a { display: inline-block; padding: 0.25rem 0; }

.facts { display: grid; grid-template-columns: 8rem minmax(0, 1fr); gap: 0.25rem 1rem; }
.facts > dt { color: var(--soft); }
.list { padding-left: 1.25rem; }
.list > li + li { margin-top: 0.25rem; }
.plain { list-style: none; padding: 0; }
.plain > li + li { margin-top: 0.5rem; }

.frame { border: 1px solid var(--ink); padding: 0.75rem 1rem; }
.heavy { border: 3px solid var(--ink); padding: 0.75rem 1rem; }
.double { border: 4px double var(--ink); padding: 0.75rem 1rem; }
.frame > * + *, .heavy > * + *, .double > * + * { margin-top: 0.375rem; }
.frame + .frame, .heavy + .heavy, .double + .double { margin-top: 0.75rem; }

table { width: 100%; table-layout: fixed; border-collapse: collapse; border-bottom: 1px solid var(--ink); }
table + table { margin-top: 1.5rem; }
caption { text-align: left; font-weight: 600; padding-bottom: 0.375rem; }
th, td { text-align: left; vertical-align: top; padding: 0.375rem 0.75rem 0.375rem 0; font-weight: 400; }
th:last-child, td:last-child { padding-right: 0; }
thead th { border-bottom: 1px solid var(--ink); font-weight: 600; font-size: 0.875rem; vertical-align: bottom; }
tbody tr + tr > * { border-top: 1px solid #bbb; }
th.wide { width: 60%; }
.group > th { font-weight: 600; padding-top: 1rem; }
th.half { width: 40%; }
th.narrow { width: 4.75rem; }
.number { text-align: right; white-space: nowrap; }
th.third { width: 32%; }
th.quarter { width: 24%; }
th.fifth { width: 22%; }
th.sixth { width: 15%; }
th.slim { width: 10%; }
thead .number { white-space: normal; }
.scroll { overflow-x: auto; }

.fine { font-size: 0.8125rem; line-height: 1.35; }
.fine .code { font-size: 0.75rem; }
.fine h3 { font-size: 0.875rem; break-after: avoid; }
.fine section + section { margin-top: 0.75rem; }
.fine section > * + * { margin-top: 0.25rem; }
.fine .formula { break-after: avoid; color: var(--ink); font-weight: 600; }
.fine table { font-size: inherit; }
.fine th, .fine td { padding-top: 0.125rem; padding-bottom: 0.125rem; }
.uses { list-style: none; padding-left: 0.75rem; text-indent: -0.75rem; }
.uses > li { padding-left: 0.75rem; break-inside: avoid; }
.uses > li > * { text-indent: 0; }

label { display: inline-flex; gap: 0.5rem; align-items: baseline; min-height: 1.5rem; }
label > span { min-width: 0; }
input { font: inherit; color: inherit; margin: 0; background: none; border-radius: 0; }
input[type="checkbox"] { appearance: none; -webkit-appearance: none; flex: none; position: relative; top: 0.1875rem;
  width: 1.125rem; height: 1.125rem; border: 1.5px solid var(--ink); }
input[type="checkbox"]:checked::before { content: ""; position: absolute; left: 0.25rem; top: -0.25rem;
  width: 0.4375rem; height: 0.875rem; border: solid var(--ink); border-width: 0 2.5px 2.5px 0; transform: rotate(40deg); }
input[type="text"] { width: 100%; min-width: 0; min-height: 1.75rem; padding: 0 0.125rem;
  border: 0; border-bottom: 1px solid var(--ink); }
.measure { display: flex; gap: 0.375rem; align-items: baseline; white-space: nowrap; }
.fields { display: grid; align-items: end; grid-template-columns: repeat(auto-fit, minmax(min(9.5rem, 100%), 1fr)); gap: 0.75rem 1.25rem; }
.fields + .fields { margin-top: 0.5rem; }
.roomy { grid-template-columns: repeat(auto-fit, minmax(min(16rem, 100%), 1fr)); }
.field { display: block; }
.field > span { display: block; font-size: 0.8125rem; color: var(--soft); }
.ticks { display: flex; flex-wrap: wrap; gap: 0.25rem 1.5rem; list-style: none; padding: 0; }
.ticks.down { flex-direction: column; }

.mark { font-weight: 700; margin-right: 0.375rem; }
.hidden { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
fieldset { padding: 0.75rem 1rem; border: 1px solid var(--line); min-width: 0; }
fieldset > * + * { margin-top: 0.5rem; }
legend { padding: 0 0.375rem; margin-left: -0.375rem; font-weight: 600; }
fieldset + fieldset { margin-top: 0.75rem; }
.record > * + * { margin-top: 0.5rem; }
.sign input { min-height: 2.5rem; }
.chain { list-style: none; padding: 0; }
.chain > li { position: relative; padding-left: 1.25rem; }
.chain > li + li::before { content: "\\2192"; position: absolute; left: 0; }
.chain > li:first-child { padding-left: 0; }
.steps { padding-left: 2rem; }
.steps > li > * { margin-right: 0.5rem; }
.steps > li { padding: 0.3125rem 0 0.3125rem 0.25rem; border-bottom: 1px solid #bbb; }
.steps > li::marker { font-weight: 600; }
.rules > dd { margin-bottom: 0.375rem; }
.tight > li + li { margin-top: 0; }

figure { break-inside: avoid; }
figcaption { font-size: 0.875rem; margin-top: 0.375rem; }
svg { display: block; width: 100%; height: auto; }

@media screen and (max-width: 40rem) {
  body { padding: 1.25rem 1rem 3rem; }
  .facts { grid-template-columns: minmax(0, 1fr); gap: 0; }
  .facts > dd + dt { margin-top: 0.5rem; }
  .facts > dt { font-size: 0.8125rem; }
  table, caption, tbody, tr, th, td { display: block; }
  thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  tbody tr { padding: 0.5rem 0; }
  tbody tr + tr { border-top: 1px solid #bbb; }
  tbody tr > *, tbody tr + tr > * { border: 0; padding: 0.125rem 0; width: auto; text-align: left; }
  td::before { content: attr(data-head); display: block; font-size: 0.8125rem; color: var(--soft); }
}

@page { margin: 13mm 15mm 16mm; }
@media print {
  html { font-size: 9pt; }
  body { max-width: none; padding: 0; line-height: 1.3; }
  main > section { margin-top: 1.375rem; }
  main > section > * + *, article > * + * { margin-top: 0.5rem; }
  article + article { margin-top: 1rem; padding-top: 0.75rem; }
  main > section.new-page:first-child { break-before: auto; }
  .group { break-after: avoid; }
  th, td { padding-top: 0.25rem; padding-bottom: 0.25rem; }
  .fine { font-size: 7pt; line-height: 1.25; columns: 2; column-gap: 6mm; }
  .fine section > * + * { margin-top: 0.125rem; }
  .fine section + section { margin-top: 0.375rem; }
  .fine .code { font-size: 6.5pt; }
  nav, .skip { display: none; }
  a { text-decoration: none; }
  h1, h2, h3, h4, caption, thead, article > .double { break-after: avoid; }
  thead { display: table-header-group; }
  tr, figure, .keep, .frame, .heavy, .double, fieldset, .record, dd, li { break-inside: avoid; }
  h2 + p { break-after: avoid; }
  p { orphans: 3; widows: 3; }
  .field input { min-height: 7mm; }
  label { min-height: 1.25rem; }
  .scroll { overflow: visible; }
  .new-page { break-before: page; margin-top: 0; }
}
`.trim();
