import { simulator } from "../engine/simulate.js";
import { wire, type BoardWiring } from "../engine/wiring.js";
import type { Scenario } from "../model/scenario.js";
import { Light, turnsIn, united, type Turns, type TurnShelf } from "./light.js";
import { linkedBoards, partOf } from "./part.js";
import type { FaultyDisplay } from "./planted.js";
import { Walk } from "./walk.js";

/**
 * Simulates displays with one board out of order. Only that board is run, with those that are clocked by one another with
 * it: the others do as on a display in order, and were run once.
 */
export class LoneFaults {
  readonly healthy: Light;
  private readonly wiring: readonly BoardWiring[];
  /** For each board, those that belong together with it. */
  private readonly linked: readonly ReadonlySet<number>[];
  /** For each board, what all boards show that do not belong together with it. */
  private readonly rest: readonly (readonly Turns[])[];

  private readonly walks = new Map<ReadonlySet<number>, Walk>();

  constructor(
    private readonly scenario: Scenario,
    private readonly shelf: TurnShelf,
  ) {
    this.wiring = wire(scenario);
    this.linked = linkedBoards(scenario);
    const alone = new Map([...new Set(this.linked)].map((boards) => [boards, this.turnsOf(boards, { scenario, disorder: {} })]));
    const ways = scenario.houses.map((_, house) => [...alone].filter(([, turns]) => turns[house]!.length > 0));
    const all = ways.map((lit, house) => shelf.keep(united(lit.map(([, turns]) => turns[house]!))));
    const without = (boards: ReadonlySet<number>, turns: readonly Turns[]): Turns[] =>
      all.map((whole, house) => (turns[house]!.length === 0 ? whole : shelf.keep(united(ways[house]!.flatMap(([others, own]) => (others === boards ? [] : [own[house]!]))))));
    const rest = new Map([...alone].map(([boards, turns]) => [boards, without(boards, turns)]));
    this.rest = this.linked.map((boards) => rest.get(boards)!);
    this.healthy = new Light(this.length, all);
  }

  /** What a display shows that is out of order at board b, or wherever the display says (null). */
  lightOf(b: number | null, display: FaultyDisplay): Light {
    const everywhere = new Set(this.scenario.boards.keys());
    const { shelf } = this;
    if (b === null) return new Light(this.length, this.turnsOf(everywhere, display).map((each) => shelf.keep(each)));
    const rest = this.rest[b]!;
    const walk = this.walkOf(b);
    const rewiring = walk.rewiring(b, display);
    if (rewiring !== null) {
      const other = new Map([...rewiring.houses].map((house) => [house, shelf.keep(united([walk.turnsOf(house, b, rewiring.lights), rest[house]!]))]));
      return this.healthy.with(other);
    }
    const own = this.turnsOf(this.linked[b]!, display, b);
    return new Light(this.length, own.map((each, house) => (each.length === 0 ? rest[house]! : shelf.keep(united([each, rest[house]!])))));
  }

  private walkOf(b: number): Walk {
    const boards = this.linked[b]!;
    const walk = this.walks.get(boards) ?? new Walk(this.scenario, boards, this.wiring);
    this.walks.set(boards, walk);
    return walk;
  }

  private get length(): number {
    return this.scenario.opening.until - this.scenario.opening.from;
  }

  /** What some boards show by themselves. */
  private turnsOf(boards: ReadonlySet<number>, display: FaultyDisplay, changed: number | null = null): Turns[] {
    const { scenario, disorder } = partOf(display, boards);
    const own = partOf({ scenario: display.scenario, disorder: { wiring: this.wiring } }, boards).disorder.wiring!;
    const at = changed === null ? -1 : [...boards].filter((b) => b < changed).length;
    const wiring = disorder.wiring ?? (at < 0 ? own : own.with(at, wire({ ...scenario, boards: [scenario.boards[at]!] })[0]!));
    return turnsIn(simulator(scenario, { ...disorder, wiring })());
  }
}
