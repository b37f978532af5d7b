import { BAR, GUIDE, INK, PAPER, QUIET } from "../pictures/colours.js";

/** The look of a page on a screen, on a phone and on A4 paper. */
export const STYLE = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1.5rem 1rem 4rem; max-width: 56rem; color: ${INK}; background: ${PAPER};
  font: 16px/1.5 Arial, "Liberation Sans", Helvetica, sans-serif; overflow-wrap: anywhere; }
h1 { font-size: 2rem; line-height: 1.2; margin: 0 0 .25rem; }
h2 { font-size: 1.35rem; line-height: 1.3; margin: 2.5rem 0 .75rem; padding-top: .75rem; border-top: 2px solid ${INK}; }
h3 { font-size: 1.05rem; margin: 1.5rem 0 .5rem; }
.size, .made { color: ${QUIET}; }
.found li { margin-bottom: .5rem; font-size: 1.1rem; }
figure { margin: 1rem 0; }
.wide { overflow-x: auto; }
.wide svg { display: block; width: 100%; min-width: 800px; height: auto; }
.stills { display: grid; grid-template-columns: repeat(auto-fill, minmax(240px, 1fr)); gap: 1rem; }
.stills figure { margin: 0; }
.stills svg { width: 100%; height: auto; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-size: .9rem; overflow-wrap: normal; }
th, td { text-align: left; vertical-align: top; padding: .3rem .75rem .3rem 0; border-bottom: 1px solid ${GUIDE}; min-width: 4.5rem; }
td { max-width: 26rem; overflow-wrap: break-word; }
td:first-child { min-width: 9rem; }
th { border-bottom-color: ${INK}; }
.number { text-align: right; padding-right: 1.25rem; font-variant-numeric: tabular-nums; white-space: nowrap; }
.bar { white-space: nowrap; }
.meter { display: inline-block; width: 5rem; height: .7rem; border: 1px solid ${QUIET}; vertical-align: baseline; margin-right: .3rem; }
.meter span { display: block; height: 100%; background: ${BAR}; }
.meter.over span { background: repeating-linear-gradient(45deg, ${INK} 0 3px, ${PAPER} 3px 6px); }
nav ul { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: .25rem 1rem; }
a { color: #005a8c; }
@page { size: A4; margin: 15mm 14mm; }
@media print {
  body { padding: 0; max-width: none; font-size: 10.5pt; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
  nav { display: none; }
  h2, h3, p:has(+ figure) { break-after: avoid; }
  figure, tr, li { break-inside: avoid; }
  .wide, .scroll { overflow: visible; }
  .wide svg { min-width: 0; max-height: 250mm; }
  .stills { grid-template-columns: repeat(3, 1fr); gap: 4mm; }
  table { font-size: 8.5pt; }
  th, td, td:first-child { min-width: 0; }
}
`;
