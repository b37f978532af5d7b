import { group } from "d3-array";
import type { PossibleFault } from "../../sim/faults/planted.js";
import { possibleFaults } from "../../sim/faults/possible.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { thorough } from "../thorough.js";

/**
 * Of the faults of one part of a board that are of one kind the first or the last, in turn: the others show as much, and
 * what is particular to an end comes up at other parts and boards.
 */
export function mostFaults(scenario: Scenario): PossibleFault[] {
  const alike = group(possibleFaults(scenario), ({ kind, board, spot }) => `${kind} ${spot.part} ${String(board)}`);
  return Array.from(alike.values(), (faults, i) => faults.at(i % 2 === 0 ? 0 : -1)!);
}

/** Of many every so many, from one on; all of them where there is time. */
export function everySo<T>(many: number, all: readonly T[], from: number): readonly T[] {
  return thorough ? all : all.filter((_, i) => i % many === from);
}

/** Of many the first and the last. */
export function some<T>(all: readonly T[]): T[] {
  return [...new Set([0, all.length - 1])].map((i) => all[i]!);
}
