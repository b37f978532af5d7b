import { eachSpell, type SceneRecord } from "../../sim/engine/record.js";
import type { Stretch } from "./clock-axis.js";
import type { Micros } from "../../sim/units/time.js";

/** Rows with more stretches than this cannot be told apart on paper, and are drawn by their mean per pixel. */
const MOST_STRETCHES = 1500;

/** When something is on within a window: the stretches one by one, or, where they are too many, the share of each pixel. */
export type Row =
  | { readonly kind: "stretches"; readonly stretches: readonly Stretch[] }
  | { readonly kind: "dense"; readonly shares: readonly number[] };

/** Collects the stretches of one row, in order of time. */
class RowMaker {
  private readonly stretches: Stretch[] = [];
  private readonly onTime: Float64Array;
  private count = 0;

  constructor(
    private readonly window: Stretch,
    pixels: number,
  ) {
    this.onTime = new Float64Array(pixels);
  }

  add(from: Micros, until: Micros): void {
    this.count++;
    if (this.count <= MOST_STRETCHES) this.stretches.push({ from, until });
    const pixel = (this.window.until - this.window.from) / this.onTime.length;
    const at = (t: Micros): number => (t - this.window.from) / pixel;
    for (let i = Math.floor(at(from)); i < Math.min(at(until), this.onTime.length); i++) {
      this.onTime[i] = this.onTime[i]! + Math.min(at(until), i + 1) - Math.max(at(from), i);
    }
  }

  row(): Row {
    return this.count <= MOST_STRETCHES
      ? { kind: "stretches", stretches: this.stretches }
      : { kind: "dense", shares: Array.from(this.onTime, (share) => Math.min(1, share)) };
  }
}

/** When each house is lit within a window of one opening (counted from 0), in rows of so many pixels. */
export function litRows(record: SceneRecord, opening: number, window: Stretch, pixels: number): Row[] {
  const makers = record.scenario.houses.map(() => new RowMaker(window, pixels));
  const since: (number | undefined)[] = makers.map(() => undefined);
  const lastLit = new Int32Array(makers.length).fill(-1);
  const { first, end, from, until } = record.openings[opening]!;
  let before: readonly number[] = [];
  const one: SceneRecord = { ...record, openings: [{ first, end, from, until }] };
  let spell = 0;
  eachSpell(one, (scene, start) => {
    const lit = record.scenes.lit(scene);
    if (start >= window.until) return;
    spell++;
    for (const house of lit) {
      lastLit[house] = spell;
      since[house] ??= start;
    }
    for (const house of before) {
      if (lastLit[house] === spell) continue;
      makers[house]!.add(since[house]!, start);
      since[house] = undefined;
    }
    before = lit;
  });
  for (const house of before) makers[house]!.add(since[house]!, window.until);
  return makers.map((maker) => maker.row());
}
