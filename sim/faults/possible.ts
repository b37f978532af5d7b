import { wire, type BoardWiring } from "../engine/wiring.js";
import type { Scenario } from "../model/scenario.js";
import { capacitorFaults } from "./capacitor.js";
import { looseJoint } from "./joint.js";
import { dirtyTrack, knobFaults } from "./knob.js";
import { mixedChannels } from "./mixed.js";
import { houseFaults, outputFaults } from "./outputs.js";
import type { PossibleFault } from "./planted.js";
import { resetWire, standstills } from "./standstill.js";
import { wakingFaults } from "./waking.js";
import { driverMinusWires, noBoardSupply } from "./supply.js";

/** Every single fault that a display can have, board by board, and at last what concerns the whole display. */
export function possibleFaults(scenario: Scenario): PossibleFault[] {
  const wiring = wire(scenario);
  const ofBoards = scenario.boards.flatMap((_, b) => [
    ...outputFaults(scenario, wiring, b),
    ...houseFaults(scenario, b),
    ...driverMinusWires(scenario, b),
    ...standstills(scenario, wiring, b),
    ...resetWire(scenario, b),
    ...noBoardSupply(scenario, wiring, b),
    ...knobFaults(scenario, b),
    ...dirtyTrack(scenario, wiring, b),
    ...capacitorFaults(scenario, wiring, b),
    ...mixedChannels(scenario, b),
    ...wakingFaults(scenario, wiring, b),
    ...looseJoint(scenario, b),
  ]);
  return [...ofBoards, noDisplaySupply(scenario, wiring)];
}

function noDisplaySupply(scenario: Scenario, wiring: readonly BoardWiring[]): PossibleFault {
  const dark = wiring.map((own) => ({ ...own, patterns: own.patterns.map(() => []) }));
  return {
    kind: "no-supply",
    board: null,
    where: "supply of the display",
    text: "The display has no supply: it is unplugged, switched off, its fuse has blown, or a lead at the supply is off.",
    spot: { part: "display supply" },
    displays: [{ scenario, disorder: { wiring: dark, still: new Set(scenario.boards.keys()) } }],
  };
}
