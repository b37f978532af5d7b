import type { Light } from "./light.js";
import type { Micros } from "../units/time.js";

/** A pace that differs by less than this share from the planned one is not noticed. */
export const NOTICED = 0.1;

/** Paces found already, by houses and time: each look that is weighed up asks for those of all lights again. */
const known = new WeakMap<Light, Map<string, number | null>>();

/**
 * The median time (of an even number the upper) in microseconds between two changes among these houses until then, a measure of how long
 * steps last; null when there are fewer than two such times.
 */
export function pace(light: Light, houses: readonly number[], until: Micros): number | null {
  const ofLight = known.get(light) ?? new Map<string, number | null>();
  known.set(light, ofLight);
  const key = `${until}:${houses.join()}`;
  if (!ofLight.has(key)) ofLight.set(key, medianGap(light, houses, until));
  return ofLight.get(key)!;
}

function medianGap(light: Light, houses: readonly number[], until: Micros): number | null {
  const moments = new Set(houses.flatMap((house) => light.turnsOf(house).filter((turn) => turn > 0 && turn < until)));
  const inOrder = [...moments].sort((a, b) => a - b);
  const gaps = inOrder.slice(1).map((moment, i) => moment - inOrder[i]!);
  gaps.sort((a, b) => a - b);
  return gaps.length < 2 ? null : gaps[gaps.length >> 1]!;
}

/**
 * Whether these houses change clearly less or more often than on a display in order; null: on a display in order, too, they
 * change too seldom in that time to tell.
 */
export function paceOff(light: Light, healthy: Light, houses: readonly number[], until: Micros): "slow" | "fast" | "on-pace" | null {
  const planned = pace(healthy, houses, until);
  if (planned === null) return null;
  const now = pace(light, houses, until) ?? Infinity;
  if (now > planned * (1 + NOTICED)) return "slow";
  return now < planned / (1 + NOTICED) ? "fast" : "on-pace";
}
