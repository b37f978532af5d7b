import type { OpenHours } from "../../sim/engine/calendar.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { csvRow } from "../output/csv.js";
import type { Exporter } from "./exporter.js";
import { toSeconds, type Micros } from "../../sim/units/time.js";

/** A row for each spell: opening, scene, houses lit. Seconds are counted from Monday 00:00. */
export class SpellsCsvExporter implements Exporter {
  private text = csvRow(["opening", "startSeconds", "endSeconds", "scene", "lit", "houses"]);
  private opening = 0;
  private begun: { readonly time: Micros; readonly scene: number; readonly houses: readonly number[] } | null = null;

  constructor(
    private readonly scenario: Scenario,
    private readonly wanted: (opening: number) => boolean,
  ) {}

  opens(_: OpenHours, opening: number): void {
    this.opening = opening;
  }

  spell(time: Micros, scene: number, houses: readonly number[]): void {
    this.endSpell(time);
    this.begun = { time, scene, houses };
  }

  closes({ until }: OpenHours): void {
    this.endSpell(until);
    this.begun = null;
  }

  moves(): void {
    // a scene says it all
  }

  ends(): void {
    // each opening ends its spells
  }

  take(): string {
    const { text } = this;
    this.text = "";
    return text;
  }

  private endSpell(time: Micros): void {
    if (this.begun === null || !this.wanted(this.opening)) return;
    const { time: start, scene, houses } = this.begun;
    const names = houses.map((house) => this.scenario.houses[house]!.id).join(" ");
    this.text += csvRow([this.opening + 1, toSeconds(start), toSeconds(time), scene + 1, houses.length, names]);
  }
}

/** A row for each stretch in which one house is lit or dark, in order of its end; stretches are cut at opening and closing. */
export class HouseSpellsCsvExporter implements Exporter {
  private text = csvRow(["opening", "house", "name", "state", "startSeconds", "endSeconds"]);
  private opening = 0;
  /** Since when each house is as it is, −1 before the first spell of an opening. */
  private readonly since: Float64Array;
  private readonly lit: Uint8Array;
  private shown: readonly number[] = [];

  constructor(
    private readonly scenario: Scenario,
    private readonly wanted: (opening: number) => boolean,
  ) {
    this.since = new Float64Array(scenario.houses.length).fill(-1);
    this.lit = new Uint8Array(scenario.houses.length);
  }

  opens({ from }: OpenHours, opening: number): void {
    this.opening = opening;
    this.since.fill(from);
    this.lit.fill(0);
    this.shown = [];
  }

  spell(time: Micros, _: number, houses: readonly number[]): void {
    const now = new Set(houses);
    for (const house of this.shown) if (!now.has(house)) this.turn(house, time, 0);
    for (const house of houses) if (this.lit[house] === 0) this.turn(house, time, 1);
    this.shown = houses;
  }

  closes({ until }: OpenHours): void {
    for (let house = 0; house < this.lit.length; house++) this.turn(house, until, 0);
  }

  moves(): void {
    // a scene says it all
  }

  ends(): void {
    // each opening ends its stretches
  }

  take(): string {
    const { text } = this;
    this.text = "";
    return text;
  }

  private turn(house: number, time: Micros, lit: 0 | 1): void {
    const start = this.since[house]!;
    if (time > start && this.wanted(this.opening)) {
      const { id, name } = this.scenario.houses[house]!;
      const state = this.lit[house] === 1 ? "lit" : "dark";
      this.text += csvRow([this.opening + 1, id, name, state, toSeconds(start), toSeconds(time)]);
    }
    this.since[house] = time;
    this.lit[house] = lit;
  }
}
