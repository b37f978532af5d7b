import type { Scenes } from "./sceneset.js";

/**
 * Tells the number of the scene that all boards show together. Scenes are numbered in order of first appearance. Boards
 * begin at step 0.
 */
export interface SceneFinder {
  /** Board b is at this step from now on. */
  move(b: number, step: number): void;
  /** Number of the scene now shown. */
  scene(): number;
  /** The scenes found so far. */
  found(): Scenes;
}
