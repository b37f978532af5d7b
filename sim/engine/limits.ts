import { holds } from "../counters/sequence.js";
import { InputError } from "../errors.js";
import type { Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/boardtimes.js";
import { HOUR, type Seconds } from "../units/time.js";
import { poweredHours } from "./calendar.js";
import { wire, type BoardWiring } from "./wiring.js";

/** What one run may take with all its figures, on a common machine. */
const MOST_SECONDS = 60;
const MOST_BYTES = 1.4e9;

/** How far the curve of returns reaches. */
const CURVE_REACH = 3 * HOUR;

/** Pulses (and timer periods that must be looked at one by one) that one run may need. */
export const PULSE_LIMIT = 40_000_000;

/** A run that would take too long; the message says which board asks for it and what would bring it down. */
export class RunTooLongError extends InputError {
  override readonly name = "RunTooLongError";
}

/** What each board needs in the whole run: clock pulses, and events, which are timer periods where a divider makes them more. */
function needsOf(scenario: Scenario): { pulses: number; events: number }[] {
  const seconds = poweredHours(scenario.opening) * 3600;
  const times = boardTimes(scenario);
  const warm = scenario.room.swing !== 0;
  return scenario.boards.map(({ counter }, b) => {
    const { stepSeconds, clockwork } = times[b]!;
    const stray = (scenario.supply.glitches * seconds) / 3600;
    const steady =
      clockwork === null || (clockwork.jitter === 0 && clockwork.drift === 0 && !(warm && clockwork.warmthMatters));
    const steps = seconds / (stepSeconds * holds(counter).mean);
    return { pulses: stray + steps, events: stray + steps * (steady ? 1 : clockwork.divide) };
  });
}

/**
 * About how many clock pulses (or timer periods, where they are more) a run of the scenario needs. Throws
 * {@link RunTooLongError} when that is more than {@link PULSE_LIMIT}, or when the run with all its figures would take
 * more than {@link MOST_SECONDS} or {@link MOST_BYTES}.
 */
export function expectedPulses(scenario: Scenario, wiring: readonly BoardWiring[] = wire(scenario)): number {
  refuseVanishingSteps(scenario);
  const needs = needsOf(scenario);
  const needed = needs.map(({ events }) => events);
  const total = Math.ceil(needed.reduce((sum, n) => sum + n, 0));
  const { pulses, scenes } = spellsOf(needs, wiring);
  const cost = costOf(scenario, pulses, scenes);
  const share = Math.max(total / PULSE_LIMIT, cost.seconds / MOST_SECONDS, cost.bytes / MOST_BYTES);
  if (share <= 1) return total;
  const why =
    total > PULSE_LIMIT
      ? `more than the limit of ${whole(PULSE_LIMIT)}`
      : cost.bytes > MOST_BYTES
        ? `and with up to ${whole(scenes)} scenes of ${scenario.houses.length} houses about ${whole(cost.bytes / 1e6)} MB of memory, ` +
          `more than the limit of ${whole(MOST_BYTES / 1e6)} MB`
        : `and about ${whole(cost.seconds)} s for its figures, more than the limit of ${MOST_SECONDS} s`;
  const worst = needed.indexOf(Math.max(...needed));
  const board = scenario.boards[worst]!;
  const fits = Math.floor(scenario.opening.run / share);
  const shorter = fits >= 1 ? `simulate fewer days (opening.run: ${fits} would do), or ` : "";
  throw new RunTooLongError(
    `${scenario.file}: this run would need about ${whole(total)} clock pulses, ${why}; board "${board.id}" alone asks for ` +
      `${whole(needed[worst]!)}: ${shorter}give that board a longer step`,
  );
}

/** About what a run of the scenario with all its figures takes of the memory. */
export function expectedBytes(scenario: Scenario): number {
  const { pulses, scenes } = spellsOf(needsOf(scenario), wire(scenario));
  return costOf(scenario, pulses, scenes).bytes;
}

/** The most spells and scenes that there can be. */
function spellsOf(needs: readonly { readonly pulses: number }[], wiring: readonly BoardWiring[]): { pulses: number; scenes: number } {
  const pulses = Math.ceil(needs.reduce((sum, need) => sum + need.pulses, 0));
  return { pulses, scenes: wiring.reduce((product, { patterns }) => Math.min(pulses, product * patterns.length), 1) };
}

/**
 * About what a run with all its figures costs, each spell being a pulse: measured, and rounded up. A spell takes
 * 12 bytes in the record and 20 in the figures; a scene its mask, twice while their array grows, a place in two tables and
 * its time. Most of the time goes into the curve of returns: it adds up the pairs of spells with one scene within three
 * hours or, where they are more, walks along the spells once for each of its points.
 */
function costOf({ opening, houses }: Scenario, pulses: number, scenes: number): { seconds: Seconds; bytes: number } {
  const reach = Math.min(CURVE_REACH, opening.until - opening.from);
  const pairs = 1 + (pulses * reach) / (poweredHours(opening) * HOUR) / scenes;
  return {
    seconds: pulses * (600e-9 + Math.min(20e-9 * pairs, 7.5e-6)),
    bytes: 34 * pulses + scenes * (12 * Math.ceil(houses.length / 32) + 60),
  };
}

function whole(n: number): string {
  return Math.round(n).toLocaleString("en-GB");
}

/** Steps that drift shrinks towards nothing would never end: throws {@link RunTooLongError}. */
export function refuseVanishingSteps({ boards, file, opening }: Scenario): void {
  const hours = poweredHours(opening);
  for (const { id, timer } of boards) {
    if (timer.kind === "carry" || 1 + timer.drift * hours > 0.1) continue;
    throw new RunTooLongError(
      `${file}: in ${Math.round(hours)} powered hours the drift of board "${id}" would shrink its steps to nothing; ` +
        "simulate fewer days, or give a smaller drift",
    );
  }
}
