import type { BoardWiring } from "../engine/wiring.js";
import type { Board, Load, Scenario } from "../model/scenario.js";
import { lampsOf, togetherLamps } from "../netlist/lamps.js";
import { outletsOf } from "../parts/joined.js";
import { otherLights } from "./masked.js";
import { channelName, listing } from "./names.js";
import { houseName } from "../model/housename.js";
import { withBoard, type FaultyDisplay, type PossibleFault } from "./planted.js";

/** What can be wrong between the counter outputs of board b and its lamps, output by output. */
export function outputFaults(scenario: Scenario, wiring: readonly BoardWiring[], b: number): PossibleFault[] {
  const board = scenario.boards[b]!;
  return board.outputs.flatMap((loads, output) => {
    if (loads.length === 0) return [];
    const houses = [...new Set(loads.map(({ house }) => house))];
    return [...houses.flatMap((house) => loadFaults(scenario, b, output, house)), ...channelFaults(scenario, wiring, b, output, houses)];
  });
}

/** The wire from an output to one house, and a lamp of it. */
function loadFaults(scenario: Scenario, b: number, output: number, house: number): PossibleFault[] {
  const board = scenario.boards[b]!;
  const wire: PossibleFault = {
    kind: "wire-open",
    board: board.id,
    where: `output ${output} to ${scenario.houses[house]!.id}`,
    text: `The wire from output ${output} of board ${board.id} to ${houseName(scenario, house)} is off.` +
      otherLights(scenario, [house], b, [output]),
    spot: { part: "house wire", output, house },
    displays: [rewired(scenario, b, (load, o) => o !== output || load.house !== house)],
  };
  // a set of lamps that several outputs switch is told once, with the first of them
  const first = board.outputs.findIndex((loads) => loads.some((load) => load.house === house));
  return output !== first && switchedTogether(scenario, house) ? [wire] : [wire, lampFault(scenario, b, output, house)];
}

/** One lamp out: seen as dark where it is the only one, under every output that switches it. */
function lampFault(scenario: Scenario, b: number, output: number, house: number): PossibleFault {
  const { id } = scenario.boards[b]!;
  const together = switchedTogether(scenario, house);
  const lamps = lampsAt(scenario, b, output, house);
  const name = `${houseName(scenario, house)}${together ? "" : ` on output ${output} of board ${id}`}`;
  const alone = lamps === 1;
  return {
    kind: "lamp-out",
    board: id,
    where: `output ${output}, ${scenario.houses[house]!.id}`,
    text: alone
      ? `The lamp of ${name} is out.${together ? "" : otherLights(scenario, [house], b, [output])}`
      : `One of the ${lamps} lamps of ${name} is out: the house is still lit, only dimmer, which cannot be seen as dark.`,
    spot: { part: "lamp", output, house },
    displays: [
      alone ? rewired(scenario, b, (load, o) => load.house !== house || (!together && o !== output)) : { scenario, disorder: {} },
    ],
  };
}

/** Whether the outputs that light a house switch the same lamps. Where several boards do, what each of them adds is looked at by itself. */
export function switchedTogether(scenario: Scenario, house: number): boolean {
  const boards = new Set(outletsOf(scenario, house).map(({ board }) => board));
  return scenario.houses[house]!.wired === "together" && boards.size === 1;
}

/** How many lamps of a house an output switches, be they its own or those of all outputs. */
export function lampsAt(scenario: Scenario, b: number, output: number, house: number): number {
  const lamps = switchedTogether(scenario, house) ? togetherLamps(scenario, house) : lampsOf(scenario.boards[b]!.outputs[output]!, house);
  return [...lamps.values()].reduce((sum, count) => sum + count, 0);
}

/** The channel that an output switches, and the wire that leads to its input. */
function channelFaults(scenario: Scenario, wiring: readonly BoardWiring[], b: number, output: number, houses: readonly number[]): PossibleFault[] {
  const board = scenario.boards[b]!;
  const names = listing(houses.map((house) => houseName(scenario, house)));
  const channel = channelName(board, output);
  const others = otherLights(scenario, houses, b, [output]);
  const dead = [rewired(scenario, b, (_, o) => o !== output)];
  const own = wiring[b]!;
  const always = (pattern: readonly number[]): number[] => [...new Set([...pattern, ...houses])].sort((x, y) => x - y);
  return [
    {
      kind: "wire-open",
      board: board.id,
      where: `output ${output} to the input of ${channel}`,
      text: `The wire from counter output ${output} of board ${board.id} to the input of its driver (${channel}) is off: it does not ` +
        `light ${names}.${others}`,
      spot: { part: "input wire", output },
      displays: dead,
    },
    {
      kind: "channel-open",
      board: board.id,
      where: `output ${output} (${channel})`,
      text: `The driver channel of output ${output} of board ${board.id} (${channel}) is dead: it does not light ${names}.${others}`,
      spot: { part: "channel", output },
      displays: dead,
    },
    {
      kind: "channel-on",
      board: board.id,
      where: `output ${output} (${channel})`,
      text: `The driver channel of output ${output} of board ${board.id} (${channel}) is stuck on: it lights ${names} as long as there ` +
        "is power.",
      spot: { part: "channel", output },
      // made when it is looked at, and not kept: a board of a thousand steps has a thousand of these, of a thousand lists each
      displays: [{ scenario, get disorder() { return { wiring: wiring.with(b, { ...own, patterns: own.patterns.map(always) }) }; } }],
    },
  ];
}

/** The plus wires from board b to its houses: without it a house has no light from this board at all. */
export function houseFaults(scenario: Scenario, b: number): PossibleFault[] {
  const board = scenario.boards[b]!;
  const houses = [...new Set(board.outputs.flatMap((loads) => loads.map(({ house }) => house)))].sort((x, y) => x - y);
  return houses.map((house) => ({
    kind: "wire-open",
    board: board.id,
    where: `plus to ${scenario.houses[house]!.id}`,
    text: `The plus wire from board ${board.id} to ${houseName(scenario, house)} is ` +
      `off.${otherLights(scenario, [house], b, [...board.outputs.keys()])}`,
    spot: { part: "house plus wire", house },
    displays: [rewired(scenario, b, (load) => load.house !== house)],
  }));
}

/** The display with only those loads of board b that are to be kept. */
export function rewired(scenario: Scenario, b: number, kept: (load: Load, output: number) => boolean): FaultyDisplay {
  const board = scenario.boards[b]!;
  // outputs that keep all they have stay the same list: a display of many outputs has as many faults
  const outputs = board.outputs.map((loads, output) => (loads.every((load) => kept(load, output)) ? loads : loads.filter((load) => kept(load, output))));
  const without: Board = { ...board, outputs };
  return { scenario: withBoard(scenario, b, without), disorder: {} };
}
