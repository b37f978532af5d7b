import type { OpenHours } from "../../sim/engine/calendar.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { jsonText, PRINTED_BY } from "../json/print.js";
import type { Exporter } from "./exporter.js";
import { toSeconds, type Micros } from "../../sim/units/time.js";

/**
 * The scene record as one JSON object: for each opening its spells as pairs of start (seconds since Monday 00:00) and
 * scene, then the houses lit in each scene. A spell ends where the next of its opening begins, the last at closing.
 */
export class JsonExporter implements Exporter {
  private text: string;
  private readonly scenes = new Map<number, readonly number[]>();
  private firstOpening = true;
  private firstSpell = true;
  private telling = false;

  constructor(
    private readonly scenario: Scenario,
    private readonly wanted: (opening: number) => boolean,
  ) {
    const { title, file, seed, houses } = scenario;
    const head = {
      lampdrift: PRINTED_BY,
      scenario: { title, file, seed },
      houses: houses.map(({ id, name, zone }) => ({ id, name, zone })),
    };
    this.text = `${jsonText(head).slice(0, -1)},"openings":[`;
  }

  opens({ from, until }: OpenHours, opening: number): void {
    this.telling = this.wanted(opening);
    if (!this.telling) return;
    const head = { opening: opening + 1, fromSeconds: toSeconds(from), untilSeconds: toSeconds(until) };
    this.text += `${this.firstOpening ? "\n" : ",\n"}${jsonText(head).slice(0, -1)},"spells":[`;
    this.firstOpening = false;
    this.firstSpell = true;
  }

  spell(time: Micros, scene: number, houses: readonly number[]): void {
    if (!this.telling) return;
    if (!this.scenes.has(scene)) this.scenes.set(scene, houses);
    this.text += `${this.firstSpell ? "" : ","}[${toSeconds(time)},${scene + 1}]`;
    this.firstSpell = false;
  }

  closes(): void {
    if (this.telling) this.text += "]}";
  }

  moves(): void {
    // a scene says it all
  }

  ends(): void {
    const scenes = [...this.scenes].map(([scene, houses]) => ({
      scene: scene + 1,
      houses: houses.map((house) => this.scenario.houses[house]!.id),
    }));
    this.text += `],\n"scenes":${jsonText(scenes)}}\n`;
  }

  take(): string {
    const { text } = this;
    this.text = "";
    return text;
  }
}
