import type { BoardWiring } from "../engine/wiring.js";
import type { Scenario } from "../model/scenario.js";
import { johnsonLoopsOutside } from "../counters/outside.js";
import { standing, WAKE_LIMIT } from "./standstill.js";
import { withBoard, type FaultyDisplay, type PossibleFault } from "./planted.js";

/** What can be wrong with how the counter of board b wakes: without its start pulse, or outside its cycle. */
export function wakingFaults(scenario: Scenario, wiring: readonly BoardWiring[], b: number): PossibleFault[] {
  return [...withoutStart(scenario, wiring, b), ...lockedUp(scenario, wiring, b)];
}

/** A counter that is reset at switch-on, when the part that does it has come off: it begins at any other step. */
function withoutStart(scenario: Scenario, wiring: readonly BoardWiring[], b: number): PossibleFault[] {
  const { id, counter } = scenario.boards[b]!;
  const { steps } = wiring[b]!.sequence;
  if (counter.powerUp === "anywhere" || steps < 2) return [];
  const tried = Math.min(steps - 1, WAKE_LIMIT);
  const wakes = Array.from({ length: tried }, (_, i) => 1 + Math.floor((i * (steps - 1)) / tried));
  return [
    {
      kind: "start-part-open",
      board: id,
      where: "start pulse",
      text: `Nothing sets the counter of board ${id} to its first step at switch-on (a part of the ` +
        `start pulse is off): it begins anywhere, each time at another step.${untried(steps - 1)}`,
      spot: { part: "start" },
      displays: wakes.map((step) => ({ scenario, disorder: { wakes: new Map([[b, step]]) } })),
    },
  ];
}

/** A shift register that has woken outside its cycle and has no gate that leads it back, flip-flop by flip-flop. */
function lockedUp(scenario: Scenario, wiring: readonly BoardWiring[], b: number): PossibleFault[] {
  const board = scenario.boards[b]!;
  const { counter, id } = board;
  const fault = { kind: "locked-up", where: "counter", spot: { part: "register" } } as const;
  if (counter.kind === "lfsr") {
    // no tap gives anything but zero while all stages hold zero, and from every other state it goes round its cycle
    const text = `The counter of board ${id} has woken with all its stages at zero ` +
      `and stays there: nothing of it lights until it is switched off.`;
    return standing(scenario, wiring, b, [{ ...fault, text }], [[]]);
  }
  const loops = counter.kind === "johnson" ? johnsonLoopsOutside(counter.stages, WAKE_LIMIT + 1) : [];
  if (loops.length === 0) return [];
  return [
    {
      ...fault,
      board: id,
      text: `The counter of board ${id} has woken outside its cycle and goes round there: it lights other ` +
        `houses together than it should, until it is switched off.${untried(loops.flat().length)}`,
      displays: phasesOf(scenario, b, loops),
    },
  ];
}

/** Each loop from each state in it; once only where the board wakes anywhere in any case. */
function phasesOf(scenario: Scenario, b: number, loops: readonly (readonly (readonly number[])[])[]): FaultyDisplay[] {
  const board = scenario.boards[b]!;
  const { powerUp } = board.counter;
  const inLoop = loops.map((steps) => withBoard(scenario, b, { ...board, counter: { kind: "table", steps, hold: steps.map(() => 1), powerUp } }));
  if (powerUp === "anywhere") return inLoop.map((display) => ({ scenario: display, disorder: {} }));
  const all = loops.flatMap((steps, l) => steps.map((_, step) => ({ l, step })));
  // where they are too many, the first of each loop before the second
  return all
    .sort((x, y) => x.step - y.step || x.l - y.l)
    .slice(0, WAKE_LIMIT)
    .map(({ l, step }) => ({ scenario: inLoop[l]!, disorder: { wakes: new Map([[b, step]]) } }));
}

function untried(ways: number): string {
  return ways > WAKE_LIMIT ? ` It has more ways to do so than the ${WAKE_LIMIT} that are tried.` : "";
}
