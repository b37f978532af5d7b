import { simulator } from "../engine/simulate.js";
import { wire, type BoardWiring } from "../engine/wiring.js";
import type { Scenario } from "../model/scenario.js";
import { Light, turnsIn, united, type Turns, type TurnShelf } from "./light.js";
import type { FaultyDisplay } from "./planted.js";

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

  constructor(
    private readonly scenario: Scenario,
    private readonly shelf: TurnShelf,
  ) {
    this.wiring = wire(scenario);
    this.linked = linkedBoards(scenario);
    const alone = new Map([...new Set(this.linked)].map((boards) => [boards, this.turnsOf(boards, { scenario, disorder: {} })]));
    const all = (without: ReadonlySet<number> | null): Turns[] =>
      scenario.houses.map((_, house) => shelf.keep(united([...alone].flatMap(([boards, turns]) => (boards === without ? [] : [turns[house]!])))));
    const rest = new Map([...alone.keys()].map((boards) => [boards, all(boards)]));
    this.rest = this.linked.map((boards) => rest.get(boards)!);
    this.healthy = new Light(this.length, all(null));
  }

  /** What a display shows that is out of order at board b, or wherever the display says (null). */
  lightOf(b: number | null, display: FaultyDisplay): Light {
    const everywhere = new Set(this.scenario.boards.keys());
    const own = this.turnsOf(b === null ? everywhere : this.linked[b]!, display, b);
    const turns = b === null ? own : own.map((each, house) => united([each, this.rest[b]![house]!]));
    return new Light(this.length, turns.map((each) => this.shelf.keep(each)));
  }

  private get length(): number {
    return this.scenario.opening.until - this.scenario.opening.from;
  }

  /** What some boards show while the others are dark and stand still. */
  private turnsOf(boards: ReadonlySet<number>, { scenario, disorder }: FaultyDisplay, changed: number | null = null): Turns[] {
    const wiring = this.wiring.map((own, b): BoardWiring => {
      if (!boards.has(b)) return { ...own, patterns: own.patterns.map(() => []) };
      if (disorder.wiring !== undefined) return disorder.wiring[b]!;
      return b === changed ? wire({ ...scenario, boards: [scenario.boards[b]!] })[0]! : own;
    });
    const others = [...scenario.boards.keys()].filter((b) => !boards.has(b));
    return turnsIn(simulator(scenario, { ...disorder, wiring, still: new Set([...others, ...(disorder.still ?? [])]) })());
  }
}

/** For each board the boards that are clocked by one another with it; the same set for all that belong together. */
function linkedBoards({ boards }: Scenario): ReadonlySet<number>[] {
  const sets = boards.map((_, b) => new Set([b]));
  for (const [b, { timer }] of boards.entries()) {
    if (timer.kind !== "carry") continue;
    const [mine, source] = [sets[b]!, sets[timer.from]!];
    for (const one of mine) {
      source.add(one);
      sets[one] = source;
    }
  }
  return sets;
}
