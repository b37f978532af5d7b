import type { SceneRecord } from "../engine/record.js";
import { fewestScenes } from "./anyhour.js";
import { repeatAfter } from "./repeat.js";
import { sameAtRandom } from "./scenes.js";
import { timeline, type Timeline } from "./timeline.js";
import { totals, type Totals } from "./totals.js";
import { repeatWithin, visitFigures } from "./visit.js";
import { longestDark } from "./dark.js";
import { medianOf } from "../statistics/median.js";
import { spellRange, type SpellRange } from "./spells.js";
import { HOUR, toMicros } from "../units/time.js";


/**
 * What promises (and the spread of builds) look at in one record. Each measure is worked out when it is first asked
 * for, so that a promise nobody makes costs nothing. Microseconds and shares, unless a name says otherwise.
 */
export class Measures {
  private readonly kept = new Map<string, unknown>();

  constructor(readonly record: SceneRecord) {}

  get totals(): Totals {
    return this.once("totals", () => totals(this.record));
  }

  get line(): Timeline {
    return this.once("line", () => timeline(this.record));
  }

  get spells(): SpellRange {
    return this.once("spells", () => spellRange(this.record));
  }

  get longestDark(): number {
    return this.once("dark", () => longestDark(this.record));
  }

  /** Chance that two independent glances show the same scene. */
  get sameAtRandom(): number {
    return this.once("same", () => {
      const { sceneTime, open } = this.totals;
      return sameAtRandom(Array.from(sceneTime, (time) => time / open));
    });
  }

  /** Effective number of scenes, Hill number of order 2. */
  get effective(): number {
    return 1 / this.sameAtRandom;
  }

  /** Fewest different scenes in any 60 min inside one opening; null when the openings are shorter. */
  get fewestScenes(): number | null {
    return this.once("hour", () => fewestScenes(this.line, HOUR));
  }

  /** Share of moments that are followed by the same scene `after` seconds later; null when no moment is open both times. */
  repeatAfter(after: number): number | null {
    return this.once(`after ${after}`, () => repeatAfter(this.line, toMicros(after)));
  }

  /** Share of arrivals who see a scene come back within `stay` seconds; null when no opening is longer. */
  repeatWithin(stay: number): number | null {
    return this.once(`stay ${stay}`, () => repeatWithin(this.line, toMicros(stay)));
  }

  /** Different scenes seen in a visit of the scenario's length, mean over arrivals; null when no opening is longer. */
  get distinctPerVisit(): number | null {
    return this.once("visit", () => visitFigures(this.line, this.record.scenario.visitors).distinctScenes);
  }

  /** Median length of a spell. */
  get medianSpell(): number {
    return this.once("median", () => medianOf(this.totals.spells));
  }

  /** Number of houses lit at once, mean over open time. */
  get meanLit(): number {
    return this.once("lit", () => {
      const { sceneTime, open } = this.totals;
      return this.record.scenes.reduce((sum, { length }, i) => sum + length * sceneTime[i]!, 0) / open;
    });
  }

  /** Share of open time with a house of this zone lit. */
  zoneShare(zone: string): number {
    return this.once(`zone ${zone}`, () => {
      const { sceneTime, open } = this.totals;
      const { houses } = this.record.scenario;
      const time = this.record.scenes.reduce(
        (sum, scene, i) => (scene.some((house) => houses[house]!.zone === zone) ? sum + sceneTime[i]! : sum),
        0,
      );
      return time / open;
    });
  }

  private once<T>(name: string, make: () => T): T {
    if (!this.kept.has(name)) this.kept.set(name, make());
    return this.kept.get(name) as T;
  }
}
