import type { Outcome } from "./kind.js";

/** A range of which one end may be open. */
export interface Ends {
  readonly from: number | null;
  readonly to: number | null;
}

export function atMost(limit: number, value: number | null): Outcome {
  return { kept: value === null || value <= limit, value, limit };
}

export function atLeast(limit: number, value: number | null): Outcome {
  return { kept: value === null || value >= limit, value, limit };
}

/** Both ends of a range; the one that is further beyond, or less far inside, is told. */
export function within({ from, to }: Ends, least: number | null, most: number): Outcome {
  const low = from === null ? null : atLeast(from, least);
  const high = to === null ? null : atMost(to, most);
  if (low === null || high === null) return (low ?? high)!;
  if (low.value === null) return high;
  return low.limit - low.value > high.value! - high.limit ? low : high;
}

/** The end of a range that is told where nothing was measured. */
export function endOf({ from, to }: Ends): number {
  return (to ?? from)!;
}
