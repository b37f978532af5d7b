import { rollup } from "d3-array";
import { InputError } from "../errors.js";
import { expectedPulses } from "../engine/limits.js";
import type { Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/boardtimes.js";
import { FAULT_KINDS, type Fault, type FaultKind } from "./kinds.js";
import { TurnShelf, type Light, type Turns } from "./light.js";
import { LoneFaults } from "./lone.js";
import { linkedBoards, partOf } from "./part.js";
import type { FaultyDisplay, PossibleFault } from "./planted.js";
import { possibleFaults } from "./possible.js";
import { timelessBoards } from "./unsteady.js";
import { MINUTE, SECOND } from "../units/time.js";

/** Clock pulses that all faulty displays together may need. */
const PULSES_FOR_ALL = 20_000_000;
/** Kinds of fault that change how long steps last. */
const SLOWED: ReadonlySet<FaultKind> = new Set(["knob-off", "track-open", "cap-leaky", "cap-aged"]);
/** Microseconds of an opening that must be looked at to say anything. */
const LEAST_LOOK = 10 * MINUTE;

/** Faults that nobody can tell apart by looking: with each of them every house can be lit at the same times. */
export interface FaultGroup {
  /** The plainest first. */
  readonly faults: readonly Fault[];
  /** What the display may show, one way for each place where a board may wake, or each position of the knob; mostly one. */
  readonly lights: readonly Light[];
}

/** What one display shows after switch-on when it is in order, and with each of its single faults. */
export interface FaultTable {
  readonly scenario: Scenario;
  readonly healthy: Light;
  /** In file order of their first fault. */
  readonly groups: readonly FaultGroup[];
  /** Microseconds in which every board has gone round once from switch-on, in whole minutes; at most what is looked at. */
  readonly slowestCycle: number;
  /**
   * For each board the microseconds in which it goes round wherever it wakes, and however its knob or that of the board
   * that clocks it stands.
   */
  readonly rounds: readonly number[];
  /** Boards that wake anywhere or move at random, or too quickly to be followed with a watch. */
  readonly timeless: ReadonlySet<number>;
}

/**
 * Simulates the nominal build with each single fault for one opening, and puts together the faults that show the same.
 * Where that would need too many clock pulses only the beginning of the opening is looked at. Throws an
 * {@link InputError} when that is too little to say anything.
 */
export function faultTable(whole: Scenario): FaultTable {
  const { scenario, faults } = withinReason({ ...whole, opening: { ...whole.opening, run: 1 } });
  const lone = new LoneFaults(scenario, new TurnShelf());
  const { healthy } = lone;
  const boards = new Map(scenario.boards.map(({ id }, b) => [id, b]));
  const known = new Map<FaultyDisplay, Light>();
  const lightOf = (board: string | null, display: FaultyDisplay): Light => {
    const light = known.get(display) ?? lone.lightOf(board === null ? null : boards.get(board)!, display);
    known.set(display, light);
    return light;
  };
  const planned = Math.max(...roundsOf(scenario));
  const turned = faults.filter(({ kind }) => SLOWED.has(kind)).flatMap(({ displays }) => displays.map((display) => roundsOf(display.scenario)));
  return {
    scenario,
    healthy,
    groups: grouped(faults.map((fault) => ({ fault, lights: fault.displays.map((display) => lightOf(fault.board, display)) })), healthy),
    slowestCycle: Math.min(healthy.length, Math.ceil(planned / MINUTE) * MINUTE),
    rounds: roundsOf(scenario).map((round, b) => Math.max(round, ...turned.map((rounds) => rounds[b]!).filter(Number.isFinite))),
    timeless: timelessBoards(scenario),
  };
}

function grouped(all: readonly { readonly fault: PossibleFault; readonly lights: readonly Light[] }[], healthy: Light): FaultGroup[] {
  const groups = new Map<string, { faults: Fault[]; lights: readonly Light[] }>();
  const names = lightNames(healthy);
  for (const { fault, lights } of all) {
    const distinct = new Map<string, Light>();
    for (const light of lights) if (!distinct.has(names(light))) distinct.set(names(light), light);
    const { kind, board, where, text, spot } = fault;
    const key = [...distinct.keys()].sort().join("|");
    const alike = groups.get(key);
    if (alike !== undefined) alike.faults.push({ kind, board, where, text, spot });
    else groups.set(key, { faults: [{ kind, board, where, text, spot }], lights: [...distinct.values()] });
  }
  for (const group of groups.values()) group.faults.sort((a, b) => FAULT_KINDS.indexOf(a.kind) - FAULT_KINDS.indexOf(b.kind));
  return [...groups.values()];
}

/** A name for each light that only equal ones share: the houses that do not do as on a display in order, and what they do. */
function lightNames(healthy: Light): (light: Light) => string {
  const numbers = new Map<Turns, number>();
  const known = new Map<Light, string>();
  const named = (light: Light): string =>
    light.differences(healthy).map((house) => {
      const turns = light.turnsOf(house);
      if (!numbers.has(turns)) numbers.set(turns, numbers.size);
      return `${house}:${numbers.get(turns)!}`;
    }).join();
  return (light) => {
    const name = known.get(light) ?? named(light);
    known.set(light, name);
    return name;
  };
}

/** The faults of a display, with its opening cut short where looking at all of it would take too long. */
function withinReason(scenario: Scenario): { scenario: Scenario; faults: PossibleFault[] } {
  const faults = possibleFaults(scenario);
  const pulses = pulsesOf(scenario, faults);
  if (pulses <= PULSES_FOR_ALL) return { scenario, faults };
  const { from, until } = scenario.opening;
  const length = Math.floor(((until - from) * PULSES_FOR_ALL) / pulses / MINUTE) * MINUTE;
  if (length < LEAST_LOOK) {
    throw new InputError(
      `${scenario.file}: looking at ${faults.length} faults for ${LEAST_LOOK / MINUTE} minutes each would need more than the limit of ` +
        `${PULSES_FOR_ALL.toLocaleString("en-GB")} clock pulses: give the boards longer steps`,
    );
  }
  const shorter = { ...scenario, opening: { ...scenario.opening, until: from + length } };
  return { scenario: shorter, faults: possibleFaults(shorter) };
}

/** Clock pulses of all faulty displays together; of each only the boards are run that belong together with the one that is out of order. */
function pulsesOf(scenario: Scenario, faults: readonly PossibleFault[]): number {
  const linked = new Map(scenario.boards.map(({ id }, b) => [id, b]));
  const boards = linkedBoards(scenario);
  const all = new Set(scenario.boards.keys());
  const displays = new Map(faults.flatMap((fault) => fault.displays.map((display) => [display, fault.board] as const)));
  // most displays are out of order in what their boards do, not in what the scenario says
  const uses = rollup([...displays], ({ length }) => length, ([display]) => display.scenario, ([, board]) => board);
  const healthy = new Map<ReadonlySet<number>, number>();
  let sum = 0;
  for (const [one, byBoard] of uses) {
    for (const [board, times] of byBoard) {
      const some = board === null ? all : boards[linked.get(board)!]!;
      const paced = isPacedAs(one, scenario, some);
      const pulses = (paced ? healthy.get(some) : undefined) ?? expectedPulses(partOf({ scenario: one, disorder: {} }, some).scenario);
      if (paced) healthy.set(some, pulses);
      sum += times * pulses;
    }
  }
  return sum;
}

/** Whether these boards step as in another scenario, whatever their outputs switch. */
function isPacedAs(one: Scenario, other: Scenario, boards: ReadonlySet<number>): boolean {
  const around = one.opening === other.opening && one.room === other.room && one.supply === other.supply;
  return around && [...boards].every((b) => one.boards[b]!.timer === other.boards[b]!.timer && one.boards[b]!.counter === other.boards[b]!.counter);
}

/** A shuffle has shown every row after so many mean times of return, but for a chance of less than one in ten thousand. */
const SHUFFLE_ROUNDS = 10;

function roundsOf(scenario: Scenario): number[] {
  return boardTimes(scenario).map(({ cycleSeconds, firstReturnSeconds }, b) => {
    const times = scenario.boards[b]!.counter.kind === "shuffle" ? SHUFFLE_ROUNDS : 1;
    return Math.ceil(times * Math.max(cycleSeconds, firstReturnSeconds) * SECOND);
  });
}
