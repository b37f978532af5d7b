import { sequence, type Sequence } from "../counters/sequence.js";
import { simulator } from "../engine/simulate.js";
import type { Load, Scenario } from "../model/scenario.js";
import type { Turns } from "./light.js";
import { partOf } from "./part.js";
import type { FaultyDisplay } from "./planted.js";
import type { Micros } from "../units/time.js";

/** Whether a board lights a house at a step. */
type Lights = (step: number, house: number) => boolean;

/** A change of what a board lights, which leaves its clock and its counter as they are. */
interface Rewiring {
  /** Houses that may be lit at other times. */
  readonly houses: ReadonlySet<number>;
  readonly lights: Lights;
}

/** The steps that boards which belong together take in the first opening, and what houses they light with other wires. */
export class Walk {
  private readonly boards: readonly number[];
  private readonly time: readonly Micros[];
  private readonly board: readonly number[];
  private readonly step: readonly number[];
  private readonly sound: readonly Lights[];
  private readonly patterns = new Map<number, readonly (readonly number[])[]>();

  constructor(
    private readonly scenario: Scenario,
    some: ReadonlySet<number>,
  ) {
    const part = partOf({ scenario, disorder: {} }, some).scenario;
    this.boards = [...some].sort((one, other) => one - other);
    const { trace, openings } = simulator(part)({ trace: true });
    const { from, until } = openings[0]!;
    const moves = [...trace!.time.keys()].filter((i) => trace!.time[i]! >= from && trace!.time[i]! < until);
    this.time = moves.map((i) => trace!.time[i]! - from);
    this.board = moves.map((i) => trace!.board[i]!);
    this.step = moves.map((i) => trace!.step[i]!);
    this.sound = part.boards.map((board) => byOutputs(sequence(board.counter), board.outputs));
  }

  /** How a display that is out of order at board b differs in its wires alone; null where more than that is out of order. */
  rewiring(b: number, { scenario, disorder }: FaultyDisplay): Rewiring | null {
    const { still, wakes, restarts, wiring } = disorder;
    if (still !== undefined || wakes !== undefined || restarts !== undefined) return null;
    const [board, sound] = [scenario.boards[b]!, this.scenario.boards[b]!];
    if (board.timer !== sound.timer || board.counter !== sound.counter || scenario.supply !== this.scenario.supply) return null;
    if (wiring !== undefined) {
      const { patterns, patternAt } = wiring[b]!;
      const houses = new Set<number>();
      const own = [...patternAt].map((pattern) => patterns[pattern]!);
      own.forEach((pattern, step) => {
        const before = this.patternOf(b, step);
        for (const house of pattern) if (!before.includes(house)) houses.add(house);
        for (const house of before) if (!pattern.includes(house)) houses.add(house);
      });
      return { houses, lights: (step, house) => patterns[patternAt[step]!]!.includes(house) };
    }
    const houses = new Set<number>();
    board.outputs.forEach((loads, output) => {
      if (loads === sound.outputs[output]) return;
      for (const { house } of [...loads, ...sound.outputs[output]!]) houses.add(house);
    });
    return { houses, lights: byOutputs(sequence(board.counter), board.outputs) };
  }

  /** The houses that board b should light at a step. */
  private patternOf(b: number, step: number): readonly number[] {
    const known = this.patterns.get(b) ?? this.patternsOf(b);
    this.patterns.set(b, known);
    return known[step]!;
  }

  private patternsOf(b: number): readonly (readonly number[])[] {
    const { counter, outputs } = this.scenario.boards[b]!;
    const seq = sequence(counter);
    return Array.from({ length: seq.steps }, (_, step) => seq.on(step).flatMap((output) => (outputs[output] ?? []).map(({ house }) => house)));
  }

  /** When a house goes on, off, on, … by the light of these boards, with other wires at board b. */
  turnsOf(house: number, b: number, lights: Lights): Turns {
    const shines = this.boards.map((own, i) => (own === b ? lights : this.sound[i]!));
    const lit = this.boards.map(() => false);
    const turns: number[] = [];
    for (let i = 0; i < this.time.length; i++) {
      const at = this.board[i]!;
      lit[at] = this.step[i]! >= 0 && shines[at]!(this.step[i]!, house);
      if (this.time[i + 1] !== this.time[i] && lit.includes(true) !== (turns.length % 2 === 1)) turns.push(this.time[i]!);
    }
    return turns;
  }
}

function byOutputs(seq: Sequence, outputs: readonly (readonly Load[])[]): Lights {
  return (step, house) => seq.on(step).some((output) => (outputs[output] ?? []).some((load) => load.house === house));
}
