/** The look of the panels that only a running page has: knobs, scenario text, builds. */
export const PANELS_STYLE = `
.knobs { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 17rem), 1fr)); gap: 1rem; margin: 1rem 0; align-items: start; }
.knob { max-width: 26rem; display: flex; flex-direction: column; gap: .25rem; padding: .75rem; border: 1px solid var(--line); border-radius: .5rem; }
.knob.turned { border-color: currentColor; box-shadow: 0 0 0 1px currentColor; }
.knob h3, .knob p { margin: 0; }
.knob .dial { width: 100%; max-width: 19rem; height: auto; margin: 0 auto; touch-action: pan-y; cursor: grab; }
.knobmark path:last-child { fill: var(--accent); }
.knob .dial:active { cursor: grabbing; }
.knob input { width: 100%; min-height: 44px; font: inherit; }
.knob input[type=text] { padding: 0 .5rem; }
.knob .tried { font-weight: bold; margin: 0; }
.knob .planned::before { content: "▽ " / ""; }
.knob .tried::before { content: "▼ " / ""; color: var(--accent); }
.wrong { color: var(--bad); }
.wrong:empty { display: none; }
.trial { padding: .25rem 0; }
.trial p { margin: 0 0 .5rem; }
html.trying { scroll-padding-top: 8rem; }
html.trying .trial { position: sticky; top: 0; z-index: 2; padding: .5rem .75rem; border: 2px solid var(--accent); border-radius: .5rem; background: var(--paper); color: var(--ink); }
.code { width: 100%; font: .85rem/1.45 "DejaVu Sans Mono", Consolas, Menlo, monospace; white-space: pre; overflow: auto; tab-size: 2; }
.comparison { max-width: 40rem; }
.comparison caption { text-align: left; font-weight: bold; padding: .5rem 0; }
.comparison thead th + th { text-align: right; padding-right: 1.25rem; }
html:not(.trying) .comparison .tried { color: var(--quiet); }
.comparison tbody th { font-weight: normal; border-bottom-color: var(--line); }
.curves { margin: 1rem 0; }
.curves svg { display: block; width: 100%; height: auto; margin-bottom: 1rem; }
.editor { position: relative; border: 1px solid var(--quiet); border-radius: .25rem; overflow: hidden; }
.editor .numbers { position: absolute; inset: 0 auto 0 0; width: 4.5rem; margin: 0; padding: .25rem .5rem 2rem 0; overflow: hidden; text-align: right; color: var(--quiet); }
.editor .numbers b { color: var(--bad); }
.editor textarea { display: block; width: calc(100% - 4.5rem); margin-left: 4.5rem; border: 0; padding: .25rem .5rem; resize: vertical; }
.problems { padding-left: 1.25rem; font-family: "DejaVu Sans Mono", Consolas, Menlo, monospace; font-size: .85rem; }
.problems button { font: inherit; vertical-align: top; text-align: left; border: 0; padding: .25rem 0; min-height: 0; background: none; color: inherit; text-decoration: underline; cursor: pointer; }
.known { color: var(--quiet); font-size: .9rem; min-height: 1.5em; }
.dropping { outline: 3px dashed currentColor; outline-offset: 4px; }
progress { width: 100%; max-width: 20rem; height: 1rem; }
/* on a phone what sticks to the top would cover what is read below it */
@media screen and (max-width: 40rem) {
  html.trying { scroll-padding-top: 6rem; }
  html.trying .trial { padding: .25rem .5rem; border-width: 0 0 2px; border-radius: 0; margin: 0 -1rem; }
  html.trying .trial > p { margin: 0 0 .25rem; font-size: .8rem; line-height: 1.3; white-space: nowrap; text-overflow: ellipsis; overflow: hidden; }
  .knob .dial { max-width: 17rem; }
  html.trying .trial .controls { flex-wrap: nowrap; }
  html.trying .trial .controls > button { min-width: 0; padding: .15rem .3rem; font-size: .8rem; line-height: 1.2; }
}
footer { max-width: 62rem; margin: 0 auto; padding: 0 1rem 3rem; color: var(--quiet); }
footer summary { min-height: 44px; padding: .6rem 0; cursor: pointer; }
footer pre { font: .8rem/1.45 "DejaVu Sans Mono", Consolas, Menlo, monospace; white-space: pre-wrap; }
@media print { footer { display: none; } }
`;
