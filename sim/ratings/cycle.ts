import { JOHNSON_GATE } from "../parts/selfstart.js";
import type { Scenario } from "../model/scenario.js";
import type { Note } from "./note.js";

/** For every counter that may wake up outside its cycle: that the figures suppose the gate which the wiring card draws. */
export function cycleNotes({ boards }: Scenario): Note[] {
  return boards.flatMap(({ id, counter }) => {
    if (counter.powerUp !== "anywhere") return [];
    const gated = counter.kind === "lfsr" || (counter.kind === "johnson" && counter.stages in JOHNSON_GATE);
    if (!gated) return [];
    const what = counter.kind === "lfsr" ? "with all its stages empty, and stay dark" : "outside its cycle, and stay there";
    const text = `Without a reset the counter may wake up ${what}. The figures suppose the gate that leads back into the cycle; the ` +
      "wiring card draws it.";
    return [{ where: id, text }];
  });
}
