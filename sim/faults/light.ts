import { bisectLeft } from "d3-array";
import { eachSpell, type SceneRecord } from "../engine/record.js";
import type { Micros } from "../units/time.js";

/** The moments at which a house goes on, off, on, … after switch-on, before which it counts as dark. */
export type Turns = readonly Micros[];

/** How a house stays during the time that it is looked at: dark, lit, or both are seen. */
export type Stay = "dark" | "lit" | "changing";

/** Keeps equal lists of turns once, so that lists on one shelf are equal only if they are the same. */
export class TurnShelf {
  private readonly kept = new Map<string, Turns[]>();

  keep(turns: Turns): Turns {
    const sketch = `${turns.length}:${turns.reduce((sum, turn, i) => sum + turn * (i + 1), 0)}`;
    const alike = this.kept.get(sketch) ?? [];
    const same = alike.find((other) => other.length === turns.length && other.every((turn, i) => turn === turns[i]));
    if (same !== undefined) return same;
    this.kept.set(sketch, [...alike, turns]);
    return turns;
  }
}

/** For each house its turns in the first opening of a record. */
export function turnsIn(record: SceneRecord): Turns[] {
  const { from } = record.openings[0]!;
  const turns: number[][] = record.scenario.houses.map(() => []);
  const changed = new Int32Array(turns.length);
  let before = -1;
  eachSpell(record, (scene, start, _end, opening) => {
    if (opening > 0) return;
    const count = record.scenes.changed(before, scene, changed);
    for (let i = 0; i < count; i++) turns[changed[i]!]!.push(start - from);
    before = scene;
  });
  return turns;
}

/** The turns of a house that is lit while any of these lights is on. */
export function united(all: readonly Turns[]): Turns {
  const lights = all.filter((turns) => turns.length > 0);
  if (lights.length < 2) return lights[0] ?? [];
  // a number for each, in order of time: twice the microseconds, and one where it goes off
  const moves = new Float64Array(lights.reduce((sum, { length }) => sum + length, 0));
  let m = 0;
  for (const turns of lights) for (let i = 0; i < turns.length; i++) moves[m++] = 2 * turns[i]! + (i % 2);
  moves.sort();
  const turns: number[] = [];
  let on = 0;
  for (let k = 0; k < moves.length; k++) {
    const move = moves[k]!;
    const at = Math.floor(move / 2);
    on += move % 2 === 0 ? 1 : -1;
    const last = k + 1 === moves.length || Math.floor(moves[k + 1]! / 2) !== at;
    if (last && (on > 0) !== (turns.length % 2 === 1)) turns.push(at);
  }
  return turns;
}

/** What a display shows in one opening, house by house. Times are microseconds after switch-on. */
export class Light {
  constructor(
    /** How long the opening lasts. */
    readonly length: Micros,
    private readonly turns: readonly Turns[],
  ) {}

  /** The same light but for some houses. */
  with(others: ReadonlyMap<number, Turns>): Light {
    const turns = this.turns.slice();
    for (const [house, own] of others) turns[house] = own;
    return new Light(this.length, turns);
  }

  /** When the house goes on, off, on, … */
  turnsOf(house: number): Turns {
    return this.turns[house]!;
  }

  /** The first moment at which the house is lit; Infinity: never. */
  firstLit(house: number): number {
    return this.turns[house]![0] ?? Infinity;
  }

  /** The first moment at which the house is dark; Infinity: never. */
  firstDark(house: number): number {
    const [on = Infinity, off = Infinity] = this.turns[house]!;
    return on > 0 ? 0 : off;
  }

  /** How the house stays from switch-on until then. */
  stays(house: number, until: Micros): Stay {
    if (this.firstLit(house) >= until) return "dark";
    return this.firstDark(house) >= until ? "lit" : "changing";
  }

  /** How the house stays while the other is lit, from switch-on until then; "never": the other is not lit until then. */
  staysWhile(house: number, other: number, until: Micros): Stay | "never" {
    const turns = this.turns[house]!;
    const others = this.turns[other]!;
    const seen = new Set<"dark" | "lit">();
    let i = 0;
    for (let o = 0; o < others.length && others[o]! < until; o += 2) {
      let at = others[o]!;
      const end = Math.min(others[o + 1] ?? until, until);
      while (i < turns.length && turns[i]! <= at) i++;
      // i counts the turns up to `at`: an odd number of them leaves the house lit
      for (; at < end; i++) {
        seen.add(i % 2 === 1 ? "lit" : "dark");
        at = turns[i] ?? Infinity;
      }
      i--;
    }
    const [how = "never"] = seen;
    return seen.size > 1 ? "changing" : how;
  }

  /** How many times the house comes on from switch-on until then; lit at switch-on counts as once. */
  timesOn(house: number, until: Micros): number {
    return Math.ceil(before(this.turns[house]!, until) / 2);
  }

  litAt(house: number, at: Micros): boolean {
    return before(this.turns[house]!, at + 1) % 2 === 1;
  }

  /** The same for every house during the whole opening; both must use one shelf. */
  equals(other: Light): boolean {
    return this.turns.every((turns, house) => turns === other.turns[house]);
  }

  /** The houses that do not do the same as with the other light, in order; both must use one shelf. */
  differences(other: Light): number[] {
    const found: number[] = [];
    for (let house = 0; house < this.turns.length; house++) if (this.turns[house] !== other.turns[house]) found.push(house);
    return found;
  }
}

/** How many turns come before that moment. */
function before(turns: Turns, moment: Micros): number {
  return bisectLeft(turns, moment);
}
