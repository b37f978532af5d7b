import { truncatedNormal } from "../random/normal.js";
import { stream, type Stream } from "../random/streams.js";
import type { Scenario } from "../model/scenario.js";
import type { Build } from "../timers/build.js";
import { looseParts, PART_NAMES, type LoosePart, type PartName } from "./parts.js";

/** A tolerance read as a normal distribution is a limit at so many standard deviations. */
const SIGMAS = 3;

/**
 * One build drawn from the tolerances; its number, from 1 on, decides everything. Each board has its own stream, and
 * every part its own place in it whether or not it has a tolerance, so that neither another board nor another tolerance
 * changes what the remaining parts come out as.
 * Deviations are shares of the tolerance, −1 … +1. Throws nothing.
 *
 * @example
 * ```ts
 * import { buildOf, readScenario } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const { number, deviations } = buildOf(scenario, 7);
 * console.log(number, [...deviations.values()].every((share) => Math.abs(share) <= 1)); // 7 true
 * ```
 */
export function buildOf(scenario: Scenario, number: number): Build {
  return builds(scenario)(number);
}

/** As {@link buildOf}, for many builds of one scenario. */
export function builds(scenario: Scenario): (number: number) => Build {
  const parts = looseParts(scenario);
  const byBoard = scenario.boards.map(({ id }, b) => ({ id, parts: parts.filter(({ board }) => board === b) }));
  return (number) => {
    const deviations = new Map<string, number>();
    for (const { id, parts: loose } of byBoard) {
      if (loose.length === 0) continue;
      const drawn = drawBoard(stream(scenario.seed, number, id, "parts"), loose, scenario.toleranceShape);
      for (const { key, name } of loose) deviations.set(key, drawn.get(name)!);
    }
    return { number, deviations };
  };
}

function drawBoard(source: Stream, loose: readonly LoosePart[], shape: Scenario["toleranceShape"]): Map<PartName, number> {
  const drawn = new Map<PartName, number>();
  for (const name of PART_NAMES) {
    const uniform = source.uniform();
    const size = shape === "normal" ? Math.abs(truncatedNormal(source, SIGMAS)) / SIGMAS : null;
    const part = loose.find((other) => other.name === name);
    // A leakage is rectangular whatever the tolerances are
    if (part !== undefined) drawn.set(name, deviation(part, uniform, name === "leakage" ? null : size));
  }
  return drawn;
}

/**
 * A deviation from one uniform number: uniform over the actual values between the limits or, with a `size` drawn from
 * half a bell, to either side as often as that side is wide.
 */
export function deviation({ minus, plus }: Pick<LoosePart, "minus" | "plus">, uniform: number, size: number | null): number {
  const place = uniform * (minus + plus) - minus;
  if (size !== null) return place < 0 ? -size : size;
  return place < 0 ? place / minus : place / plus;
}
