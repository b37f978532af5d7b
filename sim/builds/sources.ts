import { meanStep } from "../steptimes/index.js";
import type { Scenario } from "../model/scenario.js";
import type { Build } from "../timers/build.js";
import { deviation } from "./draw.js";
import { looseParts, type LoosePart } from "./parts.js";

/** Where the spread of a board's step time comes from, worked out from the tolerances, without drawing builds. */
export interface StepSources {
  readonly id: string;
  /** Step time at nominal values and the room's mean temperature, seconds. */
  readonly nominal: number;
  /** The extremes over all corners of tolerance; null where a timer stalls there. */
  readonly worstCase: Extremes;
  /** Nominal less and plus the root of the sum of squares of what each part does alone at either limit. */
  readonly rootSumSquare: Extremes;
  /**
   * The share of each part in the variance of the step time: its variance with this part alone off nominal, over the
   * sum of those of all parts. Largest first; all 0 where nothing moves the step time.
   */
  readonly parts: readonly { readonly part: string; readonly share: number }[];
}

/** The least and the most, seconds; null where a timer stalls. */
export interface Extremes {
  readonly min: number | null;
  readonly max: number | null;
}

/** The sources of every board, in board order; a carry board has those of the board that clocks it. */
export function stepSources(scenario: Scenario): StepSources[] {
  const loose = looseParts(scenario);
  const seconds = meanStep(scenario);
  return scenario.boards.map(({ id }, b) => {
    const own = clockOf(scenario, b);
    const parts = loose.filter(({ board }) => board === own);
    const at = (deviations: readonly (readonly [LoosePart, number])[]): number => seconds(b, buildWith(deviations));
    const nominal = at([]);
    const alone = parts.map((part) => [-1, 1].map((side) => at([[part, side]]) - nominal));
    const reach = (sign: 1 | -1): number =>
      Math.sqrt(alone.reduce((sum, sides) => sum + Math.max(0, ...sides.map((side) => sign * side)) ** 2, 0));
    // A knob that makes up for a part leaves rounding behind, which is no spread
    const noise = (1e-9 * nominal) ** 2;
    const variances = parts
      .map((part) => varianceAlone(part, scenario.toleranceShape, (x) => at([[part, x]])))
      .map((variance) => (variance > noise ? variance : 0));
    const all = variances.reduce((sum, variance) => sum + variance, 0);
    const corners = cornersOf(parts).map(at);
    return {
      id,
      nominal,
      worstCase: range(Math.min(...corners), Math.max(...corners)),
      rootSumSquare: range(nominal - reach(-1), nominal + reach(1)),
      parts: parts
        .map(({ key }, i) => ({ part: key, share: all === 0 ? 0 : variances[i]! / all }))
        .sort((x, y) => y.share - x.share),
    };
  });
}

/** Every combination of limits. The step time rises with each part, so that no place between them goes further. */
function cornersOf(parts: readonly LoosePart[]): (readonly [LoosePart, number])[][] {
  return parts.reduce<(readonly [LoosePart, number])[][]>(
    (corners, part) => corners.flatMap((corner) => [-1, 1].map((side) => [...corner, [part, side] as const])),
    [[]],
  );
}

function clockOf(scenario: Scenario, b: number): number {
  const { timer } = scenario.boards[b]!;
  return timer.kind === "carry" ? clockOf(scenario, timer.from) : b;
}

function buildWith(deviations: readonly (readonly [LoosePart, number])[]): Build {
  return { number: 0, deviations: new Map(deviations.map(([{ key }, x]) => [key, x])) };
}

function range(min: number, max: number): Extremes {
  return { min: Number.isFinite(min) ? min : null, max: Number.isFinite(max) ? max : null };
}

const NODES = 64;

/** Variance of f over the distribution of one part, by the midpoint rule; deviations that stall the timer left out. */
function varianceAlone(part: LoosePart, shape: Scenario["toleranceShape"], f: (deviation: number) => number): number {
  let weights = 0;
  let mean = 0;
  let squares = 0;
  for (let k = 0; k < NODES; k++) {
    const uniform = (k + 0.5) / NODES;
    const x = deviation(part, uniform, null);
    const weight = shape === "normal" && part.name !== "leakage" ? Math.exp(-0.5 * (3 * x) ** 2) : 1;
    const value = f(x);
    if (!Number.isFinite(value)) continue;
    weights += weight;
    const step = value - mean;
    mean += (weight / weights) * step;
    squares += weight * step * (value - mean);
  }
  return weights === 0 ? 0 : squares / weights;
}
