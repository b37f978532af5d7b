import { sameAtRandom } from "../figures/scenes.js";
import { scattered } from "../engine/scenebook.js";
import { toSeconds, type Seconds } from "../units/time.js";
import type { JointTimeline } from "./timeline.js";

/** What is seen at the joint positions of the boards, when houses hang on certain outputs. */

/** The steps of one board at which a house is lit. */
export interface LitSteps {
  readonly board: number;
  readonly on: Uint8Array;
}

/** Two words that mark a house in the number of a scene (Zobrist hashing). */
export interface HouseMark {
  readonly low: number;
  readonly high: number;
}

/** The mark of a house. */
export function markOf(house: number): HouseMark {
  return { low: scattered(2 * house), high: scattered(2 * house + 1) };
}

function isLit(on: readonly LitSteps[], steps: Int32Array, at: number): boolean {
  return on.some(({ board, on: marks }) => {
    const step = steps[at + board]!;
    return step >= 0 && marks[step] === 1;
  });
}

/** Sums over joint positions. */
interface JointSums {
  /** Lit share of each house. */
  readonly share: Float64Array;
  readonly least: number;
  readonly most: number;
  readonly sameAtRandom: number;
}

/** The sums over all joint positions, where each house is lit by these steps and has this mark. */
export function overPositions(timeline: JointTimeline, lit: readonly (readonly LitSteps[])[], marks: readonly HouseMark[]): JointSums {
  const { boards, steps, share: jointShare } = timeline;
  const share = new Float64Array(lit.length);
  const count = timeline.stepShare.map(({ length }) => new Int32Array(length));
  const low = timeline.stepShare.map(({ length }) => new Int32Array(length));
  const high = timeline.stepShare.map(({ length }) => new Int32Array(length));
  const shared: number[] = [];
  lit.forEach((on, house) => {
    if (on.length > 1) shared.push(house);
    if (on.length !== 1) return;
    const { board, on: bright } = on[0]!;
    const mark = marks[house]!;
    const [n, l, h, stepShare] = [count[board]!, low[board]!, high[board]!, timeline.stepShare[board]!];
    for (let step = 0; step < bright.length; step++) {
      if (bright[step] === 0) continue;
      share[house]! += stepShare[step]!;
      n[step]!++;
      l[step]! ^= mark.low;
      h[step]! ^= mark.high;
    }
  });
  // where every step of every board has lights of its own, every joint position has a scene of its own
  const apart = shared.length === 0 && low.every((words, b) => allDiffer(words, high[b]!));
  const scenes = new Map<number, number>();
  let least = Infinity;
  let most = 0;
  for (let j = 0; j < jointShare.length; j++) {
    let lights = 0;
    let l = 0;
    let h = 0;
    for (let b = 0; b < boards; b++) {
      const step = steps[j * boards + b]!;
      if (step < 0) continue;
      lights += count[b]![step]!;
      l ^= low[b]![step]!;
      h ^= high[b]![step]!;
    }
    for (const house of shared) {
      if (!isLit(lit[house]!, steps, j * boards)) continue;
      lights++;
      share[house]! += jointShare[j]!;
      l ^= marks[house]!.low;
      h ^= marks[house]!.high;
    }
    if (lights < least) least = lights;
    if (lights > most) most = lights;
    if (apart) continue;
    const scene = sceneNumber(l, h);
    scenes.set(scene, (scenes.get(scene) ?? 0) + jointShare[j]!);
  }
  return { share, least, most, sameAtRandom: sameAtRandom(apart ? jointShare : Float64Array.from(scenes.values())) };
}

/** Marks the joint positions at which at least one of these is lit. */
export function positionsWith({ boards, steps, share }: JointTimeline, lit: readonly (readonly LitSteps[])[]): Uint8Array {
  const any: (Uint8Array | undefined)[] = Array.from({ length: boards });
  for (const own of lit) {
    for (const { board, on } of own) {
      const marks = (any[board] ??= new Uint8Array(on.length));
      for (let step = 0; step < on.length; step++) if (on[step] === 1) marks[step] = 1;
    }
  }
  const shown = new Uint8Array(share.length);
  for (let b = 0; b < boards; b++) {
    const marks = any[b];
    if (marks === undefined) continue;
    for (let j = 0; j < shown.length; j++) {
      const step = steps[j * boards + b]!;
      if (step >= 0 && marks[step] === 1) shown[j] = 1;
    }
  }
  return shown;
}

/** Share of the time that these positions take. */
export function shareOf({ share }: JointTimeline, shown: Uint8Array): number {
  let sum = 0;
  for (let j = 0; j < shown.length; j++) if (shown[j] === 1) sum += share[j]!;
  return sum;
}

/** Longest stretch within one opening at whose positions nothing is marked. */
export function longestDark({ position, length, opens }: JointTimeline, shown: Uint8Array): Seconds {
  let longest = 0;
  let running = 0;
  for (let i = 0; i < position.length; i++) {
    const lit = shown[position[i]!] === 1;
    if (lit || opens[i] === 1) {
      if (running > longest) longest = running;
      running = 0;
    }
    if (!lit) running += length[i]!;
  }
  return toSeconds(Math.max(longest, running));
}

/** 53 bits of two words: enough that two scenes hardly ever share a number. */
function sceneNumber(low: number, high: number): number {
  return (high & 0x1fffff) * 0x100000000 + (low >>> 0);
}

function allDiffer(low: Int32Array, high: Int32Array): boolean {
  const seen = new Set<number>();
  for (let i = 0; i < low.length; i++) seen.add(sceneNumber(low[i]!, high[i]!));
  return seen.size === low.length;
}
