import { sequence, type Sequence } from "../counters/sequence.js";
import { simulator } from "../engine/simulate.js";
import type { BoardWiring } from "../engine/wiring.js";
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

  constructor(
    private readonly scenario: Scenario,
    some: ReadonlySet<number>,
    private readonly wiring: readonly BoardWiring[],
  ) {
    const part = partOf({ scenario, disorder: {} }, some).scenario;
    this.boards = [...some].sort((one, other) => one - other);
    const { trace, openings } = simulator(part)({ trace: true });
    const { from, until } = openings[0]!;
    const moves = [...trace!.time.keys()].filter((i) => trace!.time[i]! >= from && trace!.time[i]! < until);
    this.time = moves.map((i) => trace!.time[i]! - from);
    this.board = moves.map((i) => trace!.board[i]!);
    this.step = moves.map((i) => trace!.step[i]!);
    this.sound = this.boards.map((b) => byPatterns(wiring[b]!));
  }

  /** How a display that is out of order at board b differs in its wires alone; null where more than that is out of order. */
  rewiring(b: number, { scenario, disorder }: FaultyDisplay): Rewiring | null {
    const { still, wakes, restarts, wiring } = disorder;
    if (still !== undefined || wakes !== undefined || restarts !== undefined) return null;
    const [board, sound] = [scenario.boards[b]!, this.scenario.boards[b]!];
    if (board.timer !== sound.timer || board.counter !== sound.counter || scenario.supply !== this.scenario.supply) return null;
    if (wiring !== undefined) {
      const houses = new Set<number>();
      const [own, planned] = [wiring[b]!, this.wiring[b]!];
      own.patternAt.forEach((at, step) => {
        const [pattern, before] = [own.patterns[at]!, planned.patterns[planned.patternAt[step]!]!];
        for (const house of pattern) if (!before.includes(house)) houses.add(house);
        for (const house of before) if (!pattern.includes(house)) houses.add(house);
      });
      return { houses, lights: byPatterns(own) };
    }
    const houses = new Set<number>();
    board.outputs.forEach((loads, output) => {
      if (loads === sound.outputs[output]) return;
      for (const { house } of [...loads, ...sound.outputs[output]!]) houses.add(house);
    });
    return { houses, lights: byOutputs(sequence(board.counter), board.outputs) };
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

function byPatterns({ patterns, patternAt }: BoardWiring): Lights {
  return (step, house) => patterns[patternAt[step]!]!.includes(house);
}
