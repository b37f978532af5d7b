import { saturatingInput } from "../parts/drivers.js";
import { spoken } from "../parts/prose.js";
import { instantText } from "../engine/instant.js";
import type { SceneRecord } from "../engine/record.js";
import type { Scenario } from "../model/scenario.js";
import { amps } from "../units/quantities.js";
import { cycleNotes } from "./cycle.js";
import { demandOf, type Demand } from "./demand.js";
import { countsWithChips } from "./drivers.js";
import { leakageNotes } from "./leakage.js";
import type { Note } from "./note.js";
import { saidOnce } from "./once.js";

/**
 * All notes, each said once, that go with the ratings of a scenario, from the traced record of its nominal build.
 * Sentences, with their units. Throws for a record without a trace.
 *
 * @example
 * ```ts
 * import { ratingNotes, readScenario, simulate } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const notes = ratingNotes(scenario, simulate(scenario, { trace: true }));
 * console.log(notes.every(({ where, text }) => where !== "" && text.endsWith("."))); // true
 * ```
 */
export function ratingNotes(scenario: Scenario, record: SceneRecord): Note[] {
  const demand = demandOf(record);
  return saidOnce([
    ...leakageNotes(scenario),
    ...supplyNotes(scenario, demand),
    ...programmedNotes(scenario, demand),
    ...cycleNotes(scenario),
  ]);
}

function supplyNotes({ supply, opening }: Scenario, { total, mean }: Demand): Note[] {
  const notes: Note[] = [];
  if (supply.limit === null && total.value > 0) {
    const when = total.worst === null ? "" : ` (first in ${instantText(total.worst.at, opening)})`;
    notes.push({
      where: "supply",
      text:
        `No supply.limit is given, so the supply is not rated. Lamps and boards take at most ${spoken(amps, total.value)}${when} and ` +
        `${spoken(amps, mean)} on the mean; a supply of ${spoken(amps, total.value / 0.8)} would have a fifth in hand.`,
    });
  }
  if (!supply.regulated && supply.regulator === null) {
    notes.push({
      where: "supply",
      text:
        "An unregulated supply gives more than its rated volts at light load, up to 1.4 times as much (common practice, " +
        "no source): measure it with all lamps off before chips are connected.",
    });
  }
  if (supply.glitches > 0 || (!supply.regulated && supply.regulator === null)) {
    const assumed = supply.glitches > 0 ? `${supply.glitches} stray clock pulses an hour and board are ` +
      "simulated" : "No stray clock pulses are simulated";
    notes.push({
      where: "supply",
      text:
        `${assumed}. That models the effect of a disturbed supply on the picture, not the circuit: how often a counter is ` +
        "clocked by lamps that switch or by motors nearby is for a test on the bench to tell.",
    });
  }
  return notes;
}

/** Outputs of programmed parts have no published figure here; what their drivers need is told instead. */
function programmedNotes({ boards }: Scenario, { outputAmps }: Demand): Note[] {
  return boards.flatMap((board, b) => {
    const most = Math.max(0, ...outputAmps[b]!);
    if (countsWithChips(board) || board.driver.kind === "mosfet" || most === 0) return [];
    const needed = spoken(amps, saturatingInput(most));
    const text = `The outputs are those of a programmed part, which is not rated here: each must give the driver ${needed}.`;
    return [{ where: board.id, text }];
  });
}
