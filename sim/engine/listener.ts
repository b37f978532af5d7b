import type { OpenHours } from "./calendar.js";

/**
 * Hears what a run shows while it goes on, in the order of time, so that a long run needs no more memory than a short
 * one. Times are microseconds since Monday 00:00.
 */
export interface RunListener {
  /** An opening begins; openings are numbered from 0. */
  opens(hours: OpenHours, opening: number): void;
  /** A spell begins; `houses` are the indices of those lit in its scene, ascending. */
  spell(time: number, scene: number, houses: readonly number[]): void;
  closes(hours: OpenHours, opening: number): void;
  /** The counter of a board goes to a step; −1: it loses power. Told before the spell that it begins. */
  moves(time: number, board: number, step: number): void;
}
