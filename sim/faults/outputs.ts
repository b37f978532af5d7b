import type { BoardWiring } from "../engine/wiring.js";
import type { Board, Load, Scenario } from "../model/scenario.js";
import type { Fault } from "./kinds.js";
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
  const loads = board.outputs[output]!;
  const { id } = scenario.houses[house]!;
  const name = houseName(scenario, house);
  const others = otherLights(scenario, [house], b, [output]);
  const lamps = loads.reduce((sum, load) => sum + (load.house === house ? load.lamps : 0), 0);
  const displays = [rewired(scenario, b, (load, o) => o !== output || load.house !== house)];
  const lamp: Pick<Fault, "text"> & Pick<PossibleFault, "displays"> =
    lamps === 1
      ? { text: `The lamp of ${name} on output ${output} of board ${board.id} is out.${others}`, displays }
      : {
          text: `One of the ${lamps} lamps of ${name} on output ${output} of board ${board.id} is out: the house is still lit, only ` +
            "dimmer, which cannot be seen as dark.",
          displays: [{ scenario, disorder: {} }],
        };
  return [
    {
      kind: "wire-open",
      board: board.id,
      where: `output ${output} to ${id}`,
      text: `The wire from output ${output} of board ${board.id} to ${name} is off.${others}`,
      spot: { part: "house wire", output, house },
      displays,
    },
    { kind: "lamp-out", board: board.id, where: `output ${output}, ${id}`, spot: { part: "lamp", output, house }, ...lamp },
  ];
}

/** The channel that an output switches, and the wire that leads to its input. */
function channelFaults(scenario: Scenario, wiring: readonly BoardWiring[], b: number, output: number, houses: readonly number[]): PossibleFault[] {
  const board = scenario.boards[b]!;
  const names = listing(houses.map((house) => houseName(scenario, house)));
  const channel = channelName(board, output);
  const others = otherLights(scenario, houses, b, [output]);
  const dead = [rewired(scenario, b, (_, o) => o !== output)];
  const own = wiring[b]!;
  const always = own.patterns.map((pattern) => [...new Set([...pattern, ...houses])].sort((x, y) => x - y));
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
      displays: [{ scenario, disorder: { wiring: wiring.with(b, { ...own, patterns: always }) } }],
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
  const without: Board = { ...board, outputs: board.outputs.map((loads, output) => loads.filter((load) => kept(load, output))) };
  return { scenario: withBoard(scenario, b, without), disorder: {} };
}
