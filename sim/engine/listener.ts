import type { OpenHours } from "./calendar.js";
import type { SceneTaker } from "./run.js";
import type { SceneFinder } from "./scenefinder.js";
import type { Micros } from "../units/time.js";

/**
 * Hears what a run shows while it goes on, in the order of time, so that a long run needs no more memory than a short
 * one. Times are microseconds since Monday 00:00.
 */
export interface RunListener {
  /** An opening begins; openings are numbered from 0. */
  opens(hours: OpenHours, opening: number): void;
  /** A spell begins; `houses` are the indices of those lit in its scene, ascending. */
  spell(time: Micros, scene: number, houses: readonly number[]): void;
  closes(hours: OpenHours, opening: number): void;
  /** The counter of a board goes to a step; −1: it loses power. Told before the spell that it begins. */
  moves(time: Micros, board: number, step: number): void;
}

/** Turns the scenes that a run looks at into spells, and tells them. */
export class Teller implements SceneTaker {
  private opening = 0;
  private shown = -1;
  private readonly lit: (readonly number[])[] = [];

  constructor(
    private readonly listener: RunListener,
    private readonly hours: readonly OpenHours[],
    private readonly finder: SceneFinder,
  ) {}

  open(): void {
    this.shown = -1;
    this.listener.opens(this.hours[this.opening]!, this.opening);
  }

  look(t: Micros, scene: number): void {
    if (scene === this.shown) return;
    this.shown = scene;
    this.listener.spell(t, scene, (this.lit[scene] ??= this.finder.found().lit(scene)));
  }

  close(hours: OpenHours): void {
    this.listener.closes(hours, this.opening);
    this.opening++;
  }
}
