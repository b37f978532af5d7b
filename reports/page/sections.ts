import type { MakeSection } from "./section.js";
import { assumed } from "./sections/assumed.js";
import { boards } from "./sections/boards.js";
import { cards } from "./sections/cards.js";
import { cautions } from "./sections/cautions.js";
import { display } from "./sections/display.js";
import { found } from "./sections/found.js";
import { litAtOnce, litHouses } from "./sections/houses.js";
import { advice, repeats, why } from "./sections/repeats.js";
import { scenes } from "./sections/scenes.js";
import { spread } from "./sections/spread.js";
import { timeline } from "./sections/timeline.js";
import { limits, promises, ratings } from "./sections/verdicts.js";

/** The parts of the committee's report by their anchors, in order. */
export const SECTIONS: Readonly<Record<string, MakeSection>> = {
  found,
  scenes,
  display,
  timeline,
  houses: litHouses,
  lit: litAtOnce,
  repeats,
  why,
  advice,
  promises,
  spread,
  ratings,
  boards,
  cards,
  cautions,
  limits,
  assumed,
};
