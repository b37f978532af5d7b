import type { Scenes } from "./sceneset.js";
import type { Slice } from "./slice.js";

/**
 * Tells the number of the scene that all boards show together. Scenes are numbered in order of first appearance. Boards
 * begin at step 0.
 */
export interface SceneFinder {
  /** Board b is at this step from now on. */
  move(b: number, step: number): void;
  /** Number of the scene now shown. */
  scene(): number;
  /** Sends boards on as the pulses of a slice say, and puts into it the scene behind each instant. */
  follow(slice: Slice): void;
  /** The scenes found so far. */
  found(): Scenes;
}
