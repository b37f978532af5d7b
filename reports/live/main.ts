/**
 * The live page: the script that `report` puts into index.html, bundled from here.
 *
 * - `../page/embedded.ts`: what the page carries for it (the scenario's texts, the picture).
 * - `state.ts`: everything that can be changed, as one immutable value, and pure reducers, one for each thing that can be done.
 * - `store.ts`: holds the state; `watch(select, listener)` tells a panel when a part it shows has changed.
 * - `computed.ts`: what follows from (text, settings): scenario, record, figures, promises, ratings; planned and tried.
 *   The engine is the one of the command line, without a second formula.
 * - panels: `(root, store) => void`, one file each. They know the store and nothing of each other: `player.ts`, `verdicts.ts`,
 *   `knobs.ts`, `text.ts`, `builds.ts`, `sections.ts` (the report below, drawn again where it is on screen).
 *   A panel's root is the element with its name in `data-live`; without script that element is empty and hidden.
 *
 * `folds.ts` closes on a phone what the page has open for wide screens and paper.
 *
 * User text goes into the page through text nodes and attributes set from script alone.
 */
import "./schemas.js";
import { buildOnOrder } from "./builder.js";
import { builds } from "./builds.js";
import { EMBEDDED_ID, type Embedded, type FileText } from "../page/embedded.js";
import { foldOnPhones } from "./folds.js";
import { knobs } from "./knobs.js";
import { keepPhoto, photoInPage } from "./photo.js";
import { player } from "./player.js";
import { sections } from "./sections.js";
import { text } from "./text.js";
import { initialState } from "./state.js";
import { createStore, type MakePanel } from "./store.js";
import { verdicts } from "./verdicts.js";

if (typeof document === "undefined") buildOnOrder();
else start();

function start(): void {
  const script = document.currentScript!.textContent;
  const embedded = JSON.parse(document.getElementById(EMBEDDED_ID)!.textContent) as Embedded;
  const panels: Readonly<Record<string, MakePanel>> = { player, verdicts, knobs, text, builds: builds(embedded, script), sections: sections(embedded) };
  const store = createStore(initialState(embedded.files as [FileText, ...FileText[]], photoInPage(embedded.picture)));
  keepPhoto(store);
  document.documentElement.classList.add("live");
  for (const link of document.querySelectorAll<HTMLElement>("nav .try")) link.hidden = false;
  for (const root of document.querySelectorAll<HTMLElement>("[data-live]")) {
    const panel = panels[root.dataset["live"]!];
    if (panel === undefined) continue;
    root.hidden = false;
    panel(root, store);
  }
  foldOnPhones(document);
}
