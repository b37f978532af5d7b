import { poweredHours } from "../engine/calendar.js";
import { PULSE_LIMIT, RunTooLongError } from "../engine/limits.js";
import type { BoardSteps } from "./index.js";
import type { Scenario } from "../model/scenario.js";

/** What a build may need more than the nominal one before it is refused. */
const SLACK = 4;

/**
 * Throws {@link RunTooLongError} for a build whose parts deviate so far that its steps are hardly there any more: one
 * that would need several times the clock pulses that a run may have, or whose step time is not above zero.
 */
export function refuseWildBuild({ opening }: Scenario, boards: readonly BoardSteps[], number: number): void {
  const seconds = poweredHours(opening) * 3600;
  for (const { id, meanSeconds } of boards) {
    if (meanSeconds > 0 && seconds / meanSeconds <= SLACK * PULSE_LIMIT) continue;
    const found = meanSeconds > 0 ? `a step of ${meanSeconds} s` : "a step that is not above zero";
    // number 0 is a build that was not drawn: one from a file, or one that a hunt tries
    throw new RunTooLongError(
      `${number === 0 ? "a build" : `build ${number}`} gives board "${id}" ${found}, too short to simulate; give its parts (or its ` +
        "reading) a smaller tolerance",
    );
  }
}
