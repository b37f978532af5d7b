import { PULL_DOWN, startPulse, type StartPulse } from "../parts/startpulse.js";
import type { CounterChips } from "./asked.js";
import { lead, type Harness } from "./harness.js";
import type { End } from "./model.js";

/**
 * The reset at switch-on, and the output that starts a round again (common practice, no source): a capacitor from plus, which
 * a diode empties when the supply goes; resistors to minus at every reset input; a diode each where both reset the counter.
 *
 * @param divider the reset input of the divider, null where there is none
 * @param resets whether the counter starts at its first step
 */
export function wireStart(harness: Harness, counter: CounterChips, divider: End | null, resets: boolean, volts: number): StartPulse | null {
  const atStart = "to the first step at switch-on";
  const { round } = counter;
  const pulsed = [...(divider === null ? [] : [divider]), ...(resets && round === null ? counter.resets : [])];
  const alone = resets && round !== null ? counter.resets : [];
  if (!resets) restWithout(harness, counter);
  if (pulsed.length === 0 && alone.length === 0) return null;
  // resistors that load the capacitor: R start, one more at each further reset input, R reset behind the diode
  const loads = Array.from({ length: Math.max(1, pulsed.length) + alone.length }, () => PULL_DOWN.value);
  const pulse = startPulse(volts, loads, alone.length > 0);
  const c = harness.electrolytic("C start", pulse.farads);
  const off = harness.diode("D off");
  const r = harness.resistor("R start", PULL_DOWN.value);
  const node = lead(c, 1);
  harness.fromPlus(lead(c), atStart);
  if (pulsed.length > 0) harness.join(node, pulsed[0]!, atStart);
  // at the reset input itself, so that it is low when the wire from C start comes off
  harness.join(pulsed[0] ?? node, lead(r), atStart);
  harness.toMinus(lead(r, 1), atStart);
  harness.join(lead(off, 1), node, "empties C start when the supply goes");
  harness.toMinus(lead(off), "empties C start when the supply goes");
  harness.chain(pulsed, atStart);
  for (const end of pulsed.slice(1)) harness.pullDown(end);
  if (alone.length > 0 && round !== null) {
    const start = harness.diode("D start");
    const back = harness.diode("D round");
    const again = `back to the first step after ${round.steps}`;
    harness.join(node, lead(start), atStart);
    harness.join(lead(start, 1), alone[0]!, "either of the two diodes resets the counter");
    harness.join(round.from, lead(back), again);
    harness.join(lead(back, 1), lead(start, 1), again);
    harness.pullDown(alone[0]!, "R reset");
  }
  return pulse;
}

/** A counter that may begin anywhere: its reset inputs at minus, or at the output that starts the round again. */
function restWithout(harness: Harness, { resets, round }: CounterChips): void {
  if (round === null) {
    for (const end of resets) harness.toMinus(end, "the counter is never reset");
    return;
  }
  harness.join(round.from, resets[0]!, `back to the first step after ${round.steps}`);
  harness.pullDown(resets[0]!, "R reset");
}
