import { drift as driftUnit, duration, ratio } from "../units/quantities.js";
import type { TimerEstimate } from "./estimate.js";

/** Limits of the scenario file. */
const MOST_JITTER = 0.2;
const MOST_DRIFT = 1e-3;

/**
 * A `measured` timer for the scenario file, with the half-width of the interval as its reading error. Jitter and drift
 * are written down only where the log tells them from none.
 */
export function timerLine({ step, jitter, drift }: TimerEstimate): string {
  const reading = (step.high - step.low) / 2;
  const digit = reading > 0 ? 10 ** Math.floor(Math.log10(reading) - 1) : 1e-6;
  const keys = [
    "kind: measured",
    `step: ${duration.format(rounded(step.value, digit))}`,
    `reading: ${duration.format(rounded(reading, digit))}`,
  ];
  const share = jitter.value / step.value;
  if (jitter.low > 0 && share <= MOST_JITTER) keys.push(`jitter: ${ratio.format(Number(share.toPrecision(2)))}`);
  if (drift !== null && (drift.low > 0 || drift.high < 0) && Math.abs(drift.value) <= MOST_DRIFT) {
    keys.push(`drift: ${driftUnit.format(Number(drift.value.toPrecision(2)))}`);
  }
  return `timer: { ${keys.join(", ")} }`;
}

function rounded(value: number, digit: number): number {
  const places = Math.max(0, -Math.floor(Math.log10(digit)));
  return Number(value.toFixed(Math.min(places, 6)));
}
