import type { SceneRecord } from "../engine/record.js";
import { medianOf } from "../statistics/median.js";
import { fewestInAnyHour } from "./anyhour.js";
import { longestDark } from "./dark.js";
import { meanLit, zoneShare } from "./houses.js";
import { repeatAfter } from "./repeat.js";
import { changesPerHour, distinctScenes, effectiveScenes, sameAtRandom, sceneShares, shortestSpell } from "./scenes.js";
import { spellRange, type SpellRange } from "./spells.js";
import { timeline, type Timeline } from "./timeline.js";
import { totals, type Totals } from "./totals.js";
import { distinctPerVisit, repeatWithin } from "./visit.js";
import type { Micros } from "../units/time.js";

/**
 * Single figures of one record, by the functions that all its figures are made with. Each is worked out when it is first
 * asked for, so that what nobody looks at costs nothing. Microseconds and shares, unless a name says otherwise.
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

  /** Shortest spell, whether or not closing cut it short. */
  get shortestSpell(): Micros {
    return this.once("shortest", () => shortestSpell(this.totals));
  }

  get medianSpell(): Micros {
    return this.once("median", () => medianOf(this.totals.spells));
  }

  /** The longest time for which any house stays dark within one opening. */
  get longestDark(): Micros {
    return this.once("dark", () => longestDark(this.record));
  }

  get distinct(): number {
    return this.once("distinct", () => distinctScenes(this.totals));
  }

  get changesPerHour(): number {
    return this.once("changes", () => changesPerHour(this.record, this.totals));
  }

  /** Chance that two independent glances show the same scene. */
  get sameAtRandom(): number {
    return this.once("same", () => sameAtRandom(sceneShares(this.totals)));
  }

  /** Effective number of scenes, Hill number of order 2. */
  get effective(): number {
    return effectiveScenes(this.sameAtRandom);
  }

  /** Fewest different scenes in any 60 min inside one opening; null when the openings are shorter. */
  get fewestScenes(): number | null {
    return this.once("hour", () => fewestInAnyHour(this.line));
  }

  /** Share of moments that are followed by the same scene `delay` later; null when no moment is open both times. */
  repeatAfter(delay: Micros): number | null {
    return this.once(`after ${delay}`, () => repeatAfter(this.line, delay));
  }

  /** Share of arrivals who see a scene come back while they stay; null when no opening is longer. */
  repeatWithin(stay: Micros): number | null {
    return this.once(`stay ${stay}`, () => repeatWithin(this.line, stay));
  }

  /** Different scenes seen in a visit of the scenario's length, mean over arrivals; null when no opening is longer. */
  get distinctPerVisit(): number | null {
    return this.once("visit", () => distinctPerVisit(this.line, this.record.scenario.visitors.stay));
  }

  /** Number of houses lit at once, mean over open time. */
  get meanLit(): number {
    return this.once("lit", () => meanLit(this.record, this.totals));
  }

  /** Share of open time with a house of this zone lit. */
  zoneShare(zone: string): number {
    return this.once(`zone ${zone}`, () => zoneShare(this.record, this.totals, zone));
  }

  private once<T>(name: string, make: () => T): T {
    if (!this.kept.has(name)) this.kept.set(name, make());
    return this.kept.get(name) as T;
  }
}
