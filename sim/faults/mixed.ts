import { sequence } from "../counters/sequence.js";
import { driverPackages } from "../parts/packages.js";
import { houseName } from "../model/housename.js";
import type { Board, Load, Scenario } from "../model/scenario.js";
import { channelName, driverName, listing } from "./names.js";
import { withBoard, type FaultyDisplay, type PossibleFault } from "./planted.js";
import { WAKE_LIMIT } from "./standstill.js";

/** Two channels of one driver of board b that are mixed up: their wires swapped, or neighbours that touch. */
export function mixedChannels(scenario: Scenario, b: number): PossibleFault[] {
  const board = scenario.boards[b]!;
  return driverPackages(board).flatMap((outputs, place) =>
    outputs.flatMap((one, i) =>
      outputs.slice(i + 1).flatMap((other, distance) => {
        const pair = [one, other] as const;
        const [here, there] = pair.map((output) => board.outputs[output]!) as [readonly Load[], readonly Load[]];
        if (housesOf(here) === housesOf(there)) return [];
        const driver = driverName(board, place);
        const names = pair.map((output) => `${listing(housesNamed(scenario, board, output))} (output ${output})`);
        const swapped: PossibleFault = {
          kind: "wires-swapped",
          board: board.id,
          where: `outputs ${one} and ${other} (${driver})`,
          text: `The wires of two channels of ${driver} of board ${board.id} are ` +
            `swapped: ${names.join(" and ")} light in each other's place.`,
          spot: { part: "channel wires", outputs: pair },
          displays: [{ scenario: loaded(scenario, b, new Map([[one, there], [other, here]])), disorder: {} }],
        };
        if (distance > 0) return [swapped];
        const both = [...here, ...there];
        const joined: PossibleFault = {
          kind: "channels-joined",
          board: board.id,
          where: `outputs ${one} and ${other} (${channelName(board, one)} and its neighbour)`,
          text: `Two neighbouring channels of ${driver} of board ${board.id} touch: ` +
            `whenever one of them is on, ${names.join(" and ")} light together.`,
          spot: { part: "two channels", outputs: pair },
          displays: fromEachWake(loaded(scenario, b, new Map([[one, both], [other, both]])), b),
        };
        return [swapped, joined];
      }),
    ),
  );
}

/**
 * The display once for each step where board b may wake: what its houses change how often in a round depends on that where
 * some change together.
 */
function fromEachWake(scenario: Scenario, b: number): FaultyDisplay[] {
  const { counter } = scenario.boards[b]!;
  if (counter.powerUp !== "anywhere") return [{ scenario, disorder: {} }];
  const tried = Math.min(sequence(counter).steps, WAKE_LIMIT);
  return Array.from({ length: tried }, (_, step) => ({ scenario, disorder: { wakes: new Map([[b, step]]) } }));
}

/** The display with other lamps on some outputs of board b. */
function loaded(scenario: Scenario, b: number, loads: ReadonlyMap<number, readonly Load[]>): Scenario {
  const board = scenario.boards[b]!;
  return withBoard(scenario, b, { ...board, outputs: board.outputs.map((was, output) => loads.get(output) ?? was) });
}

function housesOf(loads: readonly Load[]): string {
  return [...new Set(loads.map(({ house }) => house))].sort((x, y) => x - y).join();
}

function housesNamed(scenario: Scenario, { outputs }: Board, output: number): string[] {
  return [...new Set(outputs[output]!.map(({ house }) => house))].map((house) => houseName(scenario, house));
}
