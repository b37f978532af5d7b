import { BAR, GUIDE, INK, PAPER, QUIET, STEP_DARK, STEP_PALE } from "../pictures/colours.js";

/**
 * The look of a page on a screen, on a phone and on paper. One accent, the yellow of a lit window, on the night at the
 * top and in the dark scheme; on white paper its darker brother. Text sizes go by the fourth: .8, 1, 1.25, 1.55, 2.4.
 */
const NIGHT_BACK = "#0b1220";
const NIGHT_LINE = "#2b3a52";
const NIGHT_QUIET = "#aebccd";
const LAMP = "#ffc857";

const LIGHT = `--ink: ${INK}; --quiet: ${QUIET}; --paper: ${PAPER}; --raised: #f5f3ee; --line: ${GUIDE}; --field: #767f88; --accent: ` +
  `#865400; --bad: #b00020; --bar: ${BAR};`;
const DARK = "--ink: #e9ecf0; --quiet: #aeb8c2; --paper: #12171f; --raised: #1b222d; --line: #333e4b; --field: #808c99; --accent: " +
  `${LAMP}; --bad: #ff8f7a; --bar: #6cb8ea;`;

const BASE = `
:root { color-scheme: light dark; ${LIGHT} }
@media (prefers-color-scheme: dark) { :root { ${DARK} } }
* { box-sizing: border-box; }
html { scroll-behavior: smooth; -webkit-text-size-adjust: 100%; }
body { margin: 0; color: var(--ink); background: var(--paper); overflow-wrap: anywhere;
  font: 1rem/1.55 "Segoe UI", "Helvetica Neue", Arial, "Liberation Sans", sans-serif; }
main, nav, .panels { max-width: 62rem; margin: 0 auto; padding: 0 1rem; }
main { padding-bottom: 4rem; }
h1 { font-size: 2.4rem; line-height: 1.15; margin: 0; letter-spacing: -.01em; text-wrap: balance; }
h2 { font-size: 1.55rem; line-height: 1.25; margin: 3.5rem 0 1rem; text-wrap: balance; }
h3 { font-size: 1.25rem; line-height: 1.3; margin: 2rem 0 .5rem; }
p, ul, ol { max-width: 44rem; }
a { color: var(--accent); text-underline-offset: .15em; }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
section:target > h2 { color: var(--accent); }
.size, .made { color: var(--quiet); }
.found { padding-left: 1.4rem; }
.found li { margin-bottom: .6rem; font-size: 1.1rem; }
.unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
`;

const TOP = `
.night { background: ${NIGHT_BACK}; color: #eef2f7; --ink: #eef2f7; --quiet: ${NIGHT_QUIET}; --paper: ${NIGHT_BACK}; --raised: #16203280; --line: ${NIGHT_LINE};
  --field: #7d8da3; --accent: ${LAMP}; color-scheme: dark; }
.frame { max-width: 88rem; margin: 0 auto; padding: 2rem 1.5rem 2.25rem; display: grid; gap: 1.5rem 2.5rem; grid-template-columns: minmax(0, 1fr); }
.title .made { margin: .35rem 0 0; font-size: .8rem; }
.verdicts ol { list-style: none; margin: 0; padding: 0; }
.verdicts li { border-top: 1px solid var(--line); }
.verdicts li:last-child { border-bottom: 1px solid var(--line); }
.verdicts a { display: block; position: relative; padding: .8rem 0 .8rem 1.9rem; color: inherit; text-decoration: none; font-size: 1.1rem; line-height: 1.4; min-height: 44px; }
.verdicts a:hover { text-decoration: underline; text-decoration-color: ${LAMP}; }
.verdicts a::before { content: ""; position: absolute; left: .15rem; top: 1.15rem; width: .7rem; height: .7rem; border: .2rem solid transparent; background: ${NIGHT_QUIET} padding-box; border-radius: 50%; }
.verdicts .good a::before { background: ${LAMP}; box-shadow: 0 0 10px ${LAMP}; }
.verdicts .bad a::before { border-radius: 0; transform: rotate(45deg); background: #ff8f7a; }
.verdicts .bad a { color: #ffb9aa; }
.verdicts .changed a { font-style: italic; }
.verdicts .trial { color: ${LAMP}; margin: .75rem 0 0; min-height: 1.55em; }
/* what it consists of stands beside the verdicts, the boards' steps behind them */
.live .player { display: contents; }
.live .boards { order: 1; }
@media (min-width: 64rem) {
  .live .frame { grid-template-columns: minmax(0, 5fr) minmax(0, 11fr); grid-template-rows: auto auto 1fr; }
  .live .verdicts { grid-row: 2; }
  .live .screen { grid-column: 2; grid-row: 1 / 4; }
  .live .boards { grid-column: 1 / 3; }
  .live .boards.few { grid-column: 1; grid-row: 3; grid-template-columns: minmax(0, 1fr); margin: 0; }
}
`;

const PLAYER = `
.stage { position: relative; margin: 0; }
.stage canvas { display: block; width: 100%; border-radius: 10px; background: #101a2b; touch-action: pan-y pinch-zoom; cursor: pointer; }
.when { position: absolute; left: 0; right: 0; top: 0; margin: 0; padding: .7rem 1rem 1.6rem; display: flex; gap: .2rem 1rem; align-items: baseline; flex-wrap: wrap; max-width: none; pointer-events: none;
  border-radius: 10px 10px 0 0; background: linear-gradient(rgb(6 12 24 / .72), rgb(6 12 24 / 0)); text-shadow: 0 1px 3px #000; }
.clock { font-size: 1.55rem; font-weight: 600; font-variant-numeric: tabular-nums; min-width: 6.2em; }
.count { margin-left: auto; font-variant-numeric: tabular-nums; }
.timeline { position: relative; margin-top: .6rem; }
.strip { height: 40px; margin: 0 11px; }
.strip svg { display: block; width: 100%; height: 100%; }
.changes { fill: #46587a; }
.light { fill: ${LAMP}; }
.timeline input { display: block; width: 100%; height: 44px; margin: -12px 0 0; accent-color: ${LAMP}; cursor: pointer; }
.controls { display: flex; flex-wrap: wrap; gap: .5rem; align-items: end; }
.controls + .controls { margin-top: .75rem; }
.controls > button { padding: .35rem .75rem; }
.moving { display: contents; }
.moving > [role=status] { flex-basis: 100%; order: 1; color: var(--quiet); }
.moving > [role=status]:empty { display: none; }
.controls .choice { display: grid; gap: .1rem; font-size: .8rem; color: var(--quiet); max-width: 100%; }
.light-words, .status { margin: .75rem 0 0; color: var(--quiet); max-width: none; }
.status { color: #eef2f7; min-height: 1.55em; }
.boards { list-style: none; align-content: start; margin: .5rem 0 0; padding: 0; max-width: none; display: grid; gap: .35rem 1.5rem; grid-template-columns: repeat(auto-fill, minmax(min(100%, 19rem), 1fr)); font-size: .8rem; }
.boards li { display: grid; grid-template-columns: 5.5rem 1fr; gap: 0 .6rem; align-items: center; }
.boards b { overflow: hidden; text-overflow: ellipsis; white-space: nowrap; }
.boards .cells { display: flex; gap: 2px; }
.boards i { flex: 1; max-width: 1rem; height: .7rem; border-radius: 2px; background: #2a3850; }
.boards i.on { background: ${LAMP}; }
.boards .at { grid-column: 2; color: var(--quiet); font-variant-numeric: tabular-nums; }
dialog { color: var(--ink); background: var(--paper); border: 1px solid var(--field); border-radius: 10px; padding: 1.5rem; max-width: min(26rem, calc(100vw - 2rem)); }
dialog::backdrop { background: rgb(4 8 16 / .7); }
dialog h2 { margin: 0 0 .75rem; }
dialog ul { list-style: none; padding: 0; }
dialog li { display: grid; grid-template-columns: 4.5rem 1fr; gap: .5rem; padding: .2rem 0; }
kbd { font: inherit; border: 1px solid var(--field); border-radius: 4px; padding: 0 .4rem; justify-self: start; }
`;

const FIELDS = `
button, select, textarea, input { font: inherit; color: inherit; accent-color: var(--accent); }
textarea, input[type=text] { border: 1px solid var(--field); border-radius: 8px; background: var(--paper); }
button, select, .button { min-height: 44px; min-width: 44px; max-width: 100%; padding: .35rem .9rem; border: 1px solid var(--field); border-radius: 8px; background: var(--raised); cursor: pointer; }
select { padding: .35rem .4rem .35rem .7rem; text-overflow: ellipsis; background-color: var(--paper); color: var(--ink); }
button:hover, select:hover { border-color: var(--accent); }
button[aria-pressed=true] { border-color: var(--accent); color: var(--accent); }
button.main { min-width: 6rem; font-weight: 600; background: ${LAMP}; border-color: ${LAMP}; color: #1a1405; }
button:disabled { opacity: .55; cursor: default; }

.panel { margin: 0 0 1rem; }
`;

const REPORT = `
.fold > summary { display: none; }
nav ul { list-style: none; max-width: none; margin: 1.5rem 0 0; padding: .75rem 0; border: solid var(--line); border-width: 1px 0; display: flex; flex-wrap: wrap; gap: 0 1.25rem; }
nav a { display: inline-block; padding: .6rem 0; min-height: 44px; color: var(--ink); text-decoration-color: var(--line); }
/* what is not on screen is neither laid out nor painted: a frame of the player costs half of what it did */
main > section:not([hidden]) { display: flow-root; contain-intrinsic-size: auto 40rem; overflow-clip-margin: 8px; }
@media screen { .settled main > section { content-visibility: auto; } }
figure { margin: 1rem 0; }
figure svg { display: block; width: 100%; height: auto; }
.small { display: none; }
.stills { --across: 3; display: grid; grid-template-columns: repeat(var(--across), minmax(0, 1fr)); gap: 1.25rem 1rem; margin: 1rem 0 1.5rem; }
/* no picture stands alone in the last row */
@media screen and (min-width: 40.01rem) {
  .stills:has(> :nth-child(4)) { --across: 4; }
  .stills:has(> :nth-child(5):last-child, > :nth-child(6):last-child, > :nth-child(9):last-child) { --across: 3; }
}
.stills figure { margin: 0; }
.stills svg { border-radius: 6px; }
figcaption { font-size: .9rem; line-height: 1.4; color: var(--quiet); margin-top: .4rem; }
figcaption strong { color: var(--ink); }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-size: .9rem; overflow-wrap: normal; }
th, td { text-align: left; vertical-align: top; padding: .45rem .75rem .45rem 0; border-bottom: 1px solid var(--line); min-width: 4.5rem; }
td { max-width: 26rem; overflow-wrap: break-word; }
td:first-child { min-width: 9rem; }
th { border-bottom-color: var(--field); font-weight: 600; color: var(--quiet); }
.number { text-align: right; padding-right: 1.25rem; font-variant-numeric: tabular-nums; white-space: nowrap; }
.bar { white-space: nowrap; }
.meter { display: inline-block; width: 5rem; height: .7rem; border: 1px solid var(--quiet); border-radius: 2px; vertical-align: baseline; margin-right: .3rem; }
.meter span { display: block; height: 100%; background: var(--bar); }
.meter.over span { background: repeating-linear-gradient(45deg, var(--ink) 0 3px, var(--paper) 3px 6px); }
@media screen and (min-width: 40.01rem) and (max-width: 63.99rem) { .player .controls { font-size: .875rem; } .controls > button:not(.third) { flex: 1 1 auto; padding: .35rem .5rem; } }
@media screen and (max-width: 40rem) {
  h1 { font-size: 1.9rem; }
  .fold > summary { display: block; min-height: 44px; padding: .6rem 1.75rem .6rem 0; position: relative; border-bottom: 1px solid var(--line); font-weight: 600; cursor: pointer; }
  .fold > summary::after { content: ""; position: absolute; right: .4rem; top: 1.1rem; width: .55rem; height: .55rem; border: solid var(--accent); border-width: 0 2px 2px 0; transform: rotate(45deg); }
  .fold[open] > summary { border-color: transparent; }
  .fold[open] > summary::after { transform: rotate(225deg); top: 1.4rem; }
  .fold > summary + h3 { display: none; }
  nav .fold { margin-top: 1rem; }
  nav ul { margin: 0; padding-top: 0; border-top: 0; }
  .wide { overflow-x: auto; }
  .wide svg { min-width: 800px; }
  .large { display: none; }
  .small { display: block; }
  .stacked thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  .stacked, .stacked tbody, .stacked td { display: block; max-width: none; }
  .stacked tr { display: flex; flex-wrap: wrap; gap: .1rem 1.1rem; padding: .6rem 0; border-bottom: 1px solid var(--line); }
  .stacked td { padding: 0; border: 0; text-align: left; white-space: normal; min-width: 0; }
  .stacked td:first-child { flex-basis: 100%; font-weight: 600; }
  .stacked td:not(:first-child)::before { content: attr(data-label) " "; color: var(--quiet); }
  .stacked td:empty { display: none; }
  .frame { padding: 1.25rem 1rem 1.5rem; }
  .stills { --across: 2; gap: .75rem; }
  .stills > :first-child:nth-last-child(odd) { grid-column: span 2; }
  .when { padding: .5rem .75rem 1.4rem; font-size: .8rem; gap: .2rem .6rem; }
  .clock { font-size: 1.25rem; min-width: 5.4em; }
  .controls > button, .controls > .choice { flex: 1 1 auto; }
  .controls select { width: 100%; }
  .player .controls { display: grid; grid-template-columns: repeat(6, minmax(0, 1fr)); }
  .player .controls button { padding: .35rem .1rem; }
  .player .controls > * { grid-column: span 3; }
  .player .controls > .across { grid-column: span 6; }
  .player .controls > .most { grid-column: span 4; }
  .player .controls > .third { grid-column: span 2; }
  .moving > button { grid-column: span 3; }
  .moving > [role=status] { grid-column: span 6; }
}
`;

/** Pictures are drawn for white paper; in the dark their paper and ink change places, and what they are about stays. */
const DARK_PICTURES = `
@media screen and (prefers-color-scheme: dark) {
  svg [fill="${PAPER}"] { fill: #12171f; }
  svg [fill="${INK}"], svg text:not([fill]) { fill: #e9ecf0; }
  svg [fill="${QUIET}"] { fill: #aeb8c2; }
  svg [fill="${BAR}"] { fill: #6cb8ea; }
  svg [fill="${STEP_DARK}"] { fill: #6cb8ea; }
  svg [fill="${STEP_PALE}"] { fill: #22364d; }
  svg [stroke="${PAPER}"] { stroke: #12171f; }
  svg [stroke="${INK}"] { stroke: #e9ecf0; }
  svg [stroke="${QUIET}"] { stroke: #aeb8c2; }
  svg [stroke="${GUIDE}"] { stroke: #333e4b; }
  svg [stroke="${BAR}"] { stroke: #6cb8ea; }
  svg [stroke="${STEP_DARK}"] { stroke: #6cb8ea; }
}
`;

const PRINT = `
@page { margin: 15mm 14mm; }
@media print {
  :root { color-scheme: light; ${LIGHT} }
  body { font-size: 9.5pt; line-height: 1.4; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
  main { padding: 0; max-width: none; }
  nav, .panels, .player, dialog { display: none !important; }
  .verdicts .trial { color: ${INK}; font-weight: bold; min-height: 0; }
  .night { background: none; color: var(--ink); ${LIGHT} }
  .frame, .live .frame { display: block; padding: 0; max-width: none; }
  .verdicts { margin-top: 6mm; }
  .verdicts a { padding: 2mm 0 2mm 6mm; min-height: 0; font-size: 11.5pt; }
  .verdicts a::before { top: 3.2mm; box-shadow: none !important; }
  .verdicts .good a::before { background: ${LAMP}; border: 1px solid ${INK}; }
  .verdicts .bad a, .verdicts .bad a::before { color: ${INK}; }
  h1 { font-size: 24pt; }
  h2 { font-size: 14pt; margin: 5mm 0 1.5mm; }
  h3 { margin: 4mm 0 1mm; }
  p, ul, ol { max-width: none; margin: 1.5mm 0; }
  .found li { font-size: 10.5pt; margin-bottom: 1mm; }
  h2, h3, p:has(+ figure, + .stills, + .scroll, + .fold), thead, tr:first-child { break-after: avoid; }
  figure, tr, li, p { break-inside: avoid; }
  .scroll { overflow: visible; }
  figure { margin: 2mm 0; }
  figure svg { max-height: 92mm; }
  .stills { --across: 6; gap: 3mm; margin: 2mm 0; font-size: 8.5pt; line-height: 1.25; }
  .stills:has(> :nth-child(3):last-child) { --across: 4; }
  .stills:has(> :nth-child(7):last-child) { --across: 7; }
  .stills:has(> :nth-child(8):last-child) { --across: 8; }
  .stills:has(> :nth-child(9):last-child) { --across: 9; }
  table { font-size: 7.5pt; line-height: 1.3; }
  th, td, td:first-child { min-width: 0; padding: .35mm 2mm .35mm 0; }
  #limits ul, #assumed { font-size: 8pt; }
}
`;

export const STYLE = BASE + FIELDS + TOP + PLAYER + REPORT + DARK_PICTURES + PRINT;
