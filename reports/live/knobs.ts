import type { Scenario } from "../../sim/model/scenario.js";
import { boardTimes } from "../../sim/timers/boardtimes.js";
import { spokenDuration } from "../../sim/units/text.js";
import { BoardKnob } from "./boardknob.js";
import { comparison } from "./comparison.js";
import { plannedOf, shownOf, writtenOf } from "./computed.js";
import { element } from "./dom.js";
import { turn, turnBack } from "./state.js";
import { stepSlider } from "./stepslider.js";
import type { MakePanel, Store } from "./store.js";
import { trial } from "./trial.js";

/** The boards' step times to be tried, and what they change. */
export const knobs: MakePanel = (root, store) => {
  const boards = element("div", { class: "knobs" });
  const fixed = element("p", { class: "fixed" });
  root.replaceChildren(
    element("h2", { id: "knobs" }, "Turn the knobs"),
    element("p", {}, "Try other step times: everything on this page follows. The plan stays as it is until you write the tried times " +
      "into the text."),
    trial(store),
    boards,
    fixed,
    comparison(store),
  );
  const made = new Map<string, BoardKnob>();
  const show = (): void => {
    const planned = stepsOf(plannedOf(store.state)?.scenario ?? null);
    const shown = shownOf(store.state);
    if (shown === null) return;
    const tried = stepsOf(shown.scenario);
    for (const [id, knob] of made) {
      const now = tried.get(id);
      if (now !== undefined) knob.show(planned.get(id) ?? now, now);
    }
  };
  store.watch(writtenOf, (written) => {
    if (written === null) return;
    made.clear();
    const { scenario } = written;
    const without: string[] = [];
    scenario.boards.forEach(({ id }, b) => {
      const span = stepSlider(scenario, b);
      if (span === null) without.push(`${id} (${spokenDuration(boardTimes(scenario)[b]!.stepSeconds)} a step)`);
      else made.set(id, new BoardKnob(scenario, b, span, turner(store, id)));
    });
    boards.replaceChildren(...[...made.values()].map((knob) => knob.root));
    fixed.textContent = without.length === 0 ? "" : `Without a knob or a step time of their own: ${without.join(", ")}.`;
    show();
  });
  store.watch(shownOf, show);
  store.watch(plannedOf, show);
};

/** Turns a board at once, and while more turns come, once a picture. */
function turner(store: Store, id: string): (seconds: number | null) => void {
  let waiting: { readonly seconds: number | null } | null = null;
  let busy = false;
  const apply = (seconds: number | null): void => store.update(seconds === null ? turnBack(id) : turn(id, seconds));
  const frame = (): void => {
    busy = waiting !== null;
    if (waiting === null) return;
    const { seconds } = waiting;
    waiting = null;
    apply(seconds);
    requestAnimationFrame(frame);
  };
  return (seconds) => {
    if (busy) {
      waiting = { seconds };
      return;
    }
    busy = true;
    apply(seconds);
    requestAnimationFrame(frame);
  };
}

/** Step time of each board, seconds. */
function stepsOf(scenario: Scenario | null): Map<string, number> {
  if (scenario === null) return new Map();
  const times = boardTimes(scenario);
  return new Map(scenario.boards.map(({ id }, b) => [id, times[b]!.stepSeconds]));
}
