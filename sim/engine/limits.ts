import { InputError } from "../errors.js";
import type { Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/nominal.js";
import { poweredHours } from "./calendar.js";

/** Pulses (and timer periods that must be looked at one by one) that one run may need. */
export const PULSE_LIMIT = 50_000_000;

/** A run that would take too long; the message says which board asks for it and what would bring it down. */
export class RunTooLongError extends InputError {
  override readonly name = "RunTooLongError";
}

/** Events that board b needs in the whole run: clock pulses, or timer periods where a divider makes them more. */
function eventsNeeded(scenario: Scenario): number[] {
  const seconds = poweredHours(scenario.opening) * 3600;
  const times = boardTimes(scenario);
  const warm = scenario.room.swing !== 0;
  return scenario.boards.map(({ counter }, b) => {
    const { stepSeconds, clockwork } = times[b]!;
    const stray = (scenario.supply.glitches * seconds) / 3600;
    const steady =
      clockwork === null || (clockwork.jitter === 0 && clockwork.drift === 0 && !(warm && clockwork.warmthMatters));
    const hold = counter.kind === "table" ? mean(counter.hold) : 1;
    return stray + (seconds / (stepSeconds * hold)) * (steady ? 1 : clockwork.divide);
  });
}

/**
 * About how many clock pulses (or timer periods, where they are more) a run of the scenario needs. Throws
 * {@link RunTooLongError} when that is more than {@link PULSE_LIMIT}.
 */
export function expectedPulses(scenario: Scenario): number {
  refuseVanishingSteps(scenario);
  const needed = eventsNeeded(scenario);
  const total = Math.ceil(needed.reduce((sum, n) => sum + n, 0));
  if (total <= PULSE_LIMIT) return total;
  const worst = needed.indexOf(Math.max(...needed));
  const board = scenario.boards[worst]!;
  const { run } = scenario.opening;
  const fits = Math.floor((run * PULSE_LIMIT) / total);
  const shorter = fits >= 1 ? `simulate fewer days (opening.run: ${fits} would do), or ` : "";
  throw new RunTooLongError(
    `${scenario.file}: this run would need about ${Math.round(total).toLocaleString("en-GB")} clock pulses, more than the limit of ` +
      `${PULSE_LIMIT.toLocaleString("en-GB")}; board "${board.id}" alone asks for ` +
      `${Math.round(needed[worst]!).toLocaleString("en-GB")}: ${shorter}give that board a longer step`,
  );
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Steps that drift shrinks towards nothing would never end. */
function refuseVanishingSteps({ boards, file, opening }: Scenario): void {
  const hours = poweredHours(opening);
  for (const { id, timer } of boards) {
    if (timer.kind === "carry" || 1 + timer.drift * hours > 0.1) continue;
    throw new RunTooLongError(
      `${file}: in ${Math.round(hours)} powered hours the drift of board "${id}" would shrink its steps to nothing; ` +
        "simulate fewer days, or give a smaller drift",
    );
  }
}
