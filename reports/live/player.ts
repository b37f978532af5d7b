import { shownOf } from "./computed.js";
import type { MakePanel } from "./store.js";

/** The display as a moving picture, with everything that moves it. */
export const player: MakePanel = (root, store) => {
  store.watch(shownOf, (shown) => {
    root.textContent = shown === null ? "" : shown.scenario.title;
  });
};
