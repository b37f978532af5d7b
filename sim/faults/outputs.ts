import type { BoardWiring } from "../engine/wiring.js";
import type { Board, Load, Scenario } from "../model/scenario.js";
import { lampsOf, togetherLamps } from "../netlist/lamps.js";
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
  const { id } = scenario.houses[house]!;
  const wire: PossibleFault = {
    kind: "wire-open",
    board: board.id,
    where: `output ${output} to ${id}`,
    text: `The wire from output ${output} of board ${board.id} to ${houseName(scenario, house)} is off.` +
      otherLights(scenario, [house], b, [output]),
    spot: { part: "house wire", output, house },
    displays: [rewired(scenario, b, (load, o) => o !== output || load.house !== house)],
  };
  const lamp = switchedTogether(scenario, house) ? lampTogether(scenario, b, output, house) : lampApart(scenario, b, output, house);
  return lamp === null ? [wire] : [wire, lamp];
}

/** A lamp of an output that has lamps of its own in the house. */
function lampApart(scenario: Scenario, b: number, output: number, house: number): PossibleFault {
  const lamps = [...lampsOf(scenario.boards[b]!.outputs[output]!, house).values()].reduce((sum, count) => sum + count, 0);
  const name = `${houseName(scenario, house)} on output ${output} of board ${scenario.boards[b]!.id}`;
  return lampOut(scenario, { b, output, house, lamps, name, hidden: otherLights(scenario, [house], b, [output]) }, () =>
    rewired(scenario, b, (load, o) => o !== output || load.house !== house),
  );
}

/** A lamp of the one set that all outputs of the board switch; told once, with the first of them. */
function lampTogether(scenario: Scenario, b: number, output: number, house: number): PossibleFault | null {
  const first = scenario.boards[b]!.outputs.findIndex((loads) => loads.some((load) => load.house === house));
  if (output !== first) return null;
  const lamps = [...togetherLamps(scenario, house).values()].reduce((sum, count) => sum + count, 0);
  return lampOut(scenario, { b, output, house, lamps, name: houseName(scenario, house), hidden: "" }, () =>
    rewired(scenario, b, (load) => load.house !== house),
  );
}

/** Whether the outputs that light a house switch the same lamps. Where several boards do, what each of them adds is looked at by itself. */
export function switchedTogether({ houses, boards }: Scenario, house: number): boolean {
  const lights = boards.filter(({ outputs }) => outputs.some((loads) => loads.some((load) => load.house === house)));
  return houses[house]!.wired === "together" && lights.length === 1;
}

interface LampPlace {
  readonly b: number;
  readonly output: number;
  readonly house: number;
  /** How many lamps are lit and dark with it. */
  readonly lamps: number;
  readonly name: string;
  /** What else may hide it, as a sentence. */
  readonly hidden: string;
}

/** One lamp out: seen where it is the only one, as `dark` shows it. */
function lampOut(scenario: Scenario, { b, output, house, lamps, name, hidden }: LampPlace, dark: () => FaultyDisplay): PossibleFault {
  const alone = lamps === 1;
  return {
    kind: "lamp-out",
    board: scenario.boards[b]!.id,
    where: `output ${output}, ${scenario.houses[house]!.id}`,
    text: alone
      ? `The lamp of ${name} is out.${hidden}`
      : `One of the ${lamps} lamps of ${name} is out: the house is still lit, only dimmer, which cannot be seen as dark.`,
    spot: { part: "lamp", output, house },
    displays: [alone ? dark() : { scenario, disorder: {} }],
  };
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
  // outputs that keep all they have stay the same list: a display of many outputs has as many faults
  const outputs = board.outputs.map((loads, output) => (loads.every((load) => kept(load, output)) ? loads : loads.filter((load) => kept(load, output))));
  const without: Board = { ...board, outputs };
  return { scenario: withBoard(scenario, b, without), disorder: {} };
}
