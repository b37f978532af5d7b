import { sequence } from "../../sim/counters/sequence.js";
import { spokenDuration } from "../../sim/units/text.js";
import type { SceneRecord } from "../../sim/engine/record.js";
import { element } from "./dom.js";
import { stepAt, stepsOf, type Steps } from "./moments.js";
import { toSeconds, type Micros } from "../../sim/units/time.js";

/** Counters with more steps than this show their step as a number alone. */
const CELLS = 24;
/** So many boards find room beside the picture. */
const FEW = 4;

interface Row {
  readonly steps: Steps;
  readonly count: number;
  readonly cells: readonly HTMLElement[];
  readonly words: HTMLElement;
  shown: number;
}

/** Where each board stands: its steps as a row of cells, the present one bright. */
export class BoardSteps {
  readonly list = element("ul", { class: "boards", "aria-label": "Steps of the boards" });
  private rows: Row[] = [];

  show(record: SceneRecord): void {
    const traced = stepsOf(record);
    const made = record.scenario.boards.map(({ id, counter }, b) => {
      const count = sequence(counter).steps;
      const cells = Array.from({ length: count <= CELLS ? count : 0 }, () => element("i"));
      const words = element("span", { class: "at" });
      const item = element("li", {}, element("b", {}, id), element("span", { class: "cells", "aria-hidden": "true" }, ...cells), words);
      return { item, row: { steps: traced[b]!, count, cells, words, shown: -1 } };
    });
    this.rows = made.map(({ row }) => row);
    this.list.classList.toggle("few", made.length <= FEW);
    this.list.replaceChildren(...made.map(({ item }) => item));
  }

  /** `t`: since the first Monday. While time passes, nobody reads how long each step will still last. */
  at(t: Micros, playing: boolean): void {
    for (const row of this.rows) {
      const { step, nextAt } = stepAt(row.steps, t);
      if (step !== row.shown) {
        row.cells[row.shown]?.classList.remove("on");
        row.cells[step]?.classList.add("on");
        row.shown = step;
      }
      const wait = playing || nextAt === null ? "" : `, next in ${spokenDuration(Math.ceil(toSeconds(nextAt - t)))}`;
      const words = `${step + 1} of ${row.count}${wait}`;
      if (row.words.textContent !== words) row.words.textContent = words;
    }
  }
}
