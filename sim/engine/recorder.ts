import type { OpenHours } from "./calendar.js";
import { growingDoubles, growingInts, type Growing } from "./growing.js";
import type { OpeningRecord, SceneRecord } from "./record.js";
import type { SceneTaker } from "./run.js";
import type { Slice } from "./slice.js";
import type { Micros } from "../units/time.js";

/** Writes down what a run shows: a spell wherever a scene differs from the one before it in its opening. */
export class Recorder implements SceneTaker {
  readonly openings: OpeningRecord[] = [];
  private readonly start: Growing<Float64Array>;
  private readonly scene: Growing<Int32Array>;
  private first = 0;
  /** Scene of the running spell, −1 before the first of an opening. */
  private shown = -1;

  /** `expected`: how many spells are likely to come; `over`: a record that is written over. */
  constructor(expected: number, over?: SceneRecord) {
    this.start = growingDoubles(expected, over?.spellStart);
    this.scene = growingInts(expected, over?.spellScene);
  }

  open(): void {
    this.first = this.start.length;
    this.shown = -1;
  }

  /** This scene is shown from t on. */
  look(t: Micros, scene: number): void {
    if (scene === this.shown) return;
    this.shown = scene;
    this.start.push(t);
    this.scene.push(scene);
  }

  /** The scenes of a slice, one after the other. */
  lookAll({ time, scene, count }: Slice): void {
    const starts = this.start.room(count);
    const scenes = this.scene.room(count);
    let length = this.start.length;
    let shown = this.shown;
    for (let i = 0; i < count; i++) {
      const next = scene[i]!;
      if (next === shown) continue;
      starts[length] = time[i]!;
      scenes[length++] = next;
      shown = next;
    }
    this.start.length = length;
    this.scene.length = length;
    this.shown = shown;
  }

  close({ from, until }: OpenHours): void {
    this.openings.push({ from, until, first: this.first, end: this.start.length });
  }

  spells(): { spellStart: Float64Array; spellScene: Int32Array } {
    return { spellStart: this.start.values(), spellScene: this.scene.values() };
  }
}
