import type { Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/boardtimes.js";
import type { FaultTable } from "./groups.js";
import type { FaultKind } from "./kinds.js";
import type { Light, Turns } from "./light.js";
import { CLEAR_STRETCH } from "./next.js";
import { paceSeen, tellingHouses } from "./observations.js";
import { companions, lightedBy, movesAtRandom, timelessHouses } from "./unsteady.js";
import { type Micros, MINUTE, SECOND } from "../units/time.js";

/** Faults with which a board steps at another pace. */
const PACED: ReadonlySet<FaultKind> = new Set(["knob-off", "track-open", "cap-leaky", "cap-aged"]);

/** For how long one must watch a display from switch-on to be sure of a group of faults. */
export interface WatchTime {
  /** Microseconds, in whole minutes unless closing comes before. */
  readonly until: Micros;
  /** Groups that cannot always be told from it by looking, however long, by index. */
  readonly alike: readonly number[];
  /** Whether a display with these faults cannot always be told from one in order. */
  readonly hidden: boolean;
}

/**
 * For each group of faults the time after which it is told from a display in order and from every other group: some house
 * that is followed with a watch is lit with one and dark with the other for ten seconds or more. Of boards that are not,
 * because nobody knows at which step they wake or because their steps are too short: a house stays dark, or lit, for longer
 * than it ever does with the other; or the board has gone round, and a house of it stays dark or lit while another of its
 * houses is lit and does not so with the other, or the board steps at another pace. Where some group cannot be told from
 * it, the round of its board at least, of the whole display the longest one.
 */
export function watchTimes(table: FaultTable): WatchTime[] {
  const { scenario, healthy, groups, rounds, slowestCycle } = table;
  const told = new Telling(table);
  const between = (some: readonly Light[], others: readonly Light[]): number => Math.max(...some.flatMap((a) => others.map((b) => told.after(a, b))));
  const pairs = groups.map(({ lights }, g) => groups.slice(0, g).map((other) => between(lights, other.lights)));
  const numbers = new Map(scenario.boards.map(({ id }, b) => [id, b]));
  return groups.map(({ faults, lights }, g) => {
    const fromHealthy = between(lights, [healthy]);
    const others = groups.map((_, h) => (h === g ? 0 : h < g ? pairs[g]![h]! : pairs[h]![g]!));
    const all = [fromHealthy, ...others];
    const boards = new Set(faults.map(({ board }) => (board === null ? slowestCycle : rounds[numbers.get(board)!]!)));
    // another pace shows in two steps after the first, which is longer in any case
    const paced = faults.flatMap(({ kind, board }) => (PACED.has(kind) ? lights.map((light) => twoSteps(light, tellingHouses(scenario, numbers.get(board!)!))) : []));
    const least = Math.max(0, ...paced, ...(all.includes(Infinity) ? boards : []));
    const until = Math.max(least, ...all.filter((time) => time < Infinity));
    return {
      until: Math.min(healthy.length, Math.ceil(until / MINUTE) * MINUTE),
      alike: others.flatMap((time, h) => (time === Infinity ? [h] : [])),
      hidden: fromHealthy === Infinity,
    };
  });
}

/** A board that is not followed with a watch. */
interface Timeless {
  readonly board: number;
  /** Microseconds in which it goes round. */
  readonly round: number;
  /** Its houses, each with one of those by whose light one looks at it. */
  readonly looks: readonly (readonly [number, number])[];
}

/** When two lights are told apart by somebody who watches from switch-on. */
class Telling {
  private readonly steady: readonly number[];
  /**
   * Houses that are not followed with a watch, how much longer than usual the first step of their boards may be, and how
   * long one must watch at least.
   */
  private readonly others: readonly { readonly house: number; readonly extra: number; readonly least: number }[];
  private readonly boards: readonly Timeless[];
  private readonly firsts = new PairMap<number>();
  private readonly stays = new PairMap<string>();
  private readonly longest = new Map<Turns, Stretches>();
  private readonly answers = new Map<Light, readonly string[]>();

  constructor(private readonly table: FaultTable) {
    const { scenario, healthy, rounds, timeless } = table;
    const houses = timelessHouses(table);
    const extras = firstExtras(scenario);
    this.steady = [...scenario.houses.keys()].filter((house) => !houses.has(house));
    this.others = [...houses].map((house) => {
      const boards = lightedBy(scenario, house);
      const random = boards.filter((b) => movesAtRandom(scenario, b));
      return { house, extra: Math.max(...boards.map((b) => extras[b]!)), least: Math.max(0, ...random.map((b) => rounds[b]!)) };
    });
    this.boards = [...timeless].flatMap((board): Timeless[] => {
      const round = rounds[board]!;
      const own = [...houses].filter((house) => lightedBy(scenario, house).includes(board));
      const looks = own.flatMap((house) => companions(scenario, house).map((other) => [house, other] as const));
      return round <= healthy.length ? [{ board, round, looks }] : [];
    });
  }

  /** Microseconds after switch-on; Infinity: not for sure in one opening. */
  after(a: Light, b: Light): number {
    const steady = this.steady.map((house) => this.firstApart(a.turnsOf(house), b.turnsOf(house), a.length));
    const staying = this.others.map(({ house, extra, least }) => Math.max(least, this.outlasts(a.turnsOf(house), b.turnsOf(house), a.length) + extra));
    const [ofA, ofB] = [this.answersOf(a), this.answersOf(b)];
    const inRound = this.boards.map(({ round }, w) => (ofA[w] === ofB[w] ? Infinity : round));
    return Math.min(Infinity, ...steady, ...staying, ...inRound);
  }

  /** What the houses of each board do in a round, as one word that is equal for equal answers. */
  private answersOf(light: Light): readonly string[] {
    const known = this.answers.get(light);
    if (known !== undefined) return known;
    const made = this.boards.map(({ board, round, looks }) => {
      const stays = looks.map(([house, other]) =>
        this.stays.get(light.turnsOf(house), light.turnsOf(other), () => light.staysWhile(house, other, round)),
      );
      return [...stays, paceSeen(this.table, board, round, light)].join();
    });
    this.answers.set(light, made);
    return made;
  }

  private firstApart(a: Turns, b: Turns, length: Micros): number {
    return a === b ? Infinity : this.firsts.get(a, b, () => firstApart(a, b, length));
  }

  /** After which time a house that stays dark, or lit, by one list of turns has done so for longer than it ever does by the other. */
  private outlasts(a: Turns, b: Turns, length: Micros): number {
    if (a === b) return Infinity;
    const [ofA, ofB] = [this.longestOf(a, length), this.longestOf(b, length)];
    const times = (["dark", "lit"] as const).map((how) => (Math.max(ofA[how], ofB[how]) === length ? Math.min(ofA[how], ofB[how]) : Infinity));
    const least = Math.min(...times);
    return least < length ? least + CLEAR_STRETCH : Infinity;
  }

  private longestOf(turns: Turns, length: Micros): Stretches {
    const stretches = this.longest.get(turns) ?? longest(turns, length);
    this.longest.set(turns, stretches);
    return stretches;
  }
}

/** Values for pairs of lists of turns, each worked out once. */
class PairMap<Value> {
  private readonly known = new Map<Turns, Map<Turns, Value>>();

  get(a: Turns, b: Turns, work: () => Value): Value {
    const ofA = this.known.get(a) ?? new Map<Turns, Value>();
    this.known.set(a, ofA);
    const value = ofA.has(b) ? ofA.get(b)! : work();
    ofA.set(b, value);
    return value;
  }
}

/** By how much the first step of each board may be longer than others, microseconds. */
function firstExtras(scenario: Scenario): number[] {
  return boardTimes(scenario).map(({ stepSeconds, firstStepSeconds }, b) => {
    const { counter } = scenario.boards[b]!;
    return (counter.kind === "table" ? Math.max(...counter.hold) : 1) * Math.max(0, firstStepSeconds - stepSeconds) * SECOND;
  });
}

/** For how long a house is dark, and lit, at a stretch at most; microseconds. */
interface Stretches {
  readonly dark: number;
  readonly lit: number;
}

function longest(turns: Turns, length: Micros): Stretches {
  const ends = [...turns, length];
  const stretches = ends.map((end, i) => end - (ends[i - 1] ?? 0));
  const most = (odd: number): number => stretches.reduce((longer, stretch, i) => (i % 2 === odd ? Math.max(longer, stretch) : longer), 0);
  return { dark: most(0), lit: most(1) };
}

/** When a stretch that is long enough to be sure has passed in which a house is lit by one list of turns and dark by the other. */
function firstApart(a: Turns, b: Turns, length: Micros): number {
  let [i, j] = [0, 0];
  while (i < a.length || j < b.length) {
    const at = Math.min(a[i] ?? Infinity, b[j] ?? Infinity);
    while (a[i] === at) i++;
    while (b[j] === at) j++;
    const next = Math.min(a[i] ?? length, b[j] ?? length);
    if (i % 2 !== j % 2 && next - at >= CLEAR_STRETCH) return at + CLEAR_STRETCH;
  }
  return Infinity;
}

/** When these houses have changed for the third time, microseconds after switch-on; 0 where they hardly change. */
function twoSteps(light: Light, houses: readonly number[]): number {
  const moments = new Set(houses.flatMap((house) => light.turnsOf(house).filter((turn) => turn > 0)));
  return [...moments].sort((a, b) => a - b)[2] ?? 0;
}
