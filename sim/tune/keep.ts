import { InputError } from "../errors.js";
import type { Scenario } from "../model/scenario.js";
import { knownWords } from "../scenario/problems.js";
import { boardTimes } from "../timers/boardtimes.js";
import { duration } from "../units/quantities.js";
import { spokenDuration } from "../units/text.js";
import { knobOf, nominalReach } from "../knob/settings.js";

/**
 * Reads what is to be kept: `quay=2 min 50 s` keeps the knob of that board at a step time, `quay` where it is; several
 * with commas between them. By index of board, seconds. Throws {@link InputError} with everything that is wrong.
 */
export function parseKeep(texts: readonly string[], scenario: Scenario): Map<number, number> {
  const kept = new Map<number, number>();
  const problems: string[] = [];
  const now = boardTimes(scenario);
  const knobs = scenario.boards.filter((_, b) => knobOf(scenario, b) !== null).map(({ id }) => id);
  for (const text of texts.flatMap((written) => written.split(","))) {
    const [id = "", time, ...more] = text.split("=").map((part) => part.trim());
    const shown = JSON.stringify(text.trim().slice(0, 60));
    const board = scenario.boards.findIndex((other) => other.id === id);
    const step = time === undefined ? (now[board]?.stepSeconds ?? null) : duration.parse(time);
    if (more.length > 0 || id === "") problems.push(`--keep: found ${shown}; expected a board, or a board and a step time such as ` +
      `"quay=2 min 50 s"`);
    else if (board < 0) problems.push(`--keep: no board is called ${JSON.stringify(id)}; ${knownWords(id, knobs, "boards with a knob")}`);
    else if (knobOf(scenario, board) === null) problems.push(`--keep: board ${id} has no knob and stays as it is; ` +
      knownWords(id, knobs, "boards with a knob"));
    else if (step === null) problems.push(`--keep: found ${shown}; expected after the = ${duration.accepted}`);
    else if (kept.has(board)) problems.push(`--keep: board ${id} stands twice; keep one`);
    else {
      const { from, to } = nominalReach(scenario, board);
      // the present setting may be the very end of the track
      if (step < from * (1 - 1e-9) || step > to * (1 + 1e-9)) {
        problems.push(`--keep: the knob of ${id} reaches ${spokenDuration(from)} to ${spokenDuration(to)}, not ${spokenDuration(step)}`);
      } else kept.set(board, Math.min(to, Math.max(from, step)));
    }
  }
  if (problems.length > 0) throw new InputError(problems.join("\n"));
  return kept;
}
