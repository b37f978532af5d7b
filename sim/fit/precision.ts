import { bisector, range } from "d3-array";
import { studentQuantile } from "../statistics/distributions.js";
import type { TimerEstimate } from "./estimate.js";
import { Noise } from "./noise.js";

/** More steps than this are not looked at; somebody would have to watch for weeks. */
const MOST_STEPS = 20_000;

/**
 * How many steps must be watched, every change noted, until the step time is known to ± `precision` seconds, if noise
 * stays as it was found; null when that is more than anybody would watch.
 */
export function stepsNeeded({ jitter, reading }: Pick<TimerEstimate, "jitter" | "reading">, precision: number): number | null {
  const wide = bisector((steps: number, wanted: number) => wanted - halfWidth(jitter.value, reading, steps));
  const steps = wide.left(range(MOST_STEPS + 1), precision, 2);
  return steps > MOST_STEPS ? null : steps;
}

/** Half of the 95 % interval that so many steps watched one by one would give. */
function halfWidth(jitter: number, reading: number, steps: number): number {
  const variance = jitter ** 2 + 2 * reading ** 2;
  if (variance === 0) return 0;
  const noise = new Noise(Array.from({ length: steps }, (_, i) => ({ row: i + 1, steps: 1 })), jitter ** 2 / variance);
  const ones = noise.whiten(new Float64Array(steps).fill(1));
  // least squares on one column: its variance is that of the noise over the sum of squares
  const squares = ones.reduce((sum, one) => sum + one * one, 0);
  return studentQuantile(0.975, Math.max(1, steps - 1)) * Math.sqrt(variance / squares);
}
