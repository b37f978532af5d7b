import { holds } from "../counters/sequence.js";
import type { Scenario } from "../model/scenario.js";
import { boardTimes } from "../timers/boardtimes.js";
import { firstApart, longest, PairMap, type Stretches } from "./apart.js";
import type { FaultTable } from "./groups.js";
import type { Light, Turns } from "./light.js";
import { CLEAR_STRETCH } from "./next.js";
import { paceSeen, tellingHouses } from "./observations.js";
import { companions, lightedBy, movesAtRandom, timelessHouses } from "./unsteady.js";
import { type Micros, SECOND } from "../units/time.js";

/** A board that is not followed with a watch. */
interface Timeless {
  readonly board: number;
  /** In which it goes round. */
  readonly round: Micros;
  /** Its houses, each with one of those by whose light one looks at it. */
  readonly looks: readonly (readonly [number, number])[];
  /** The looks, by index, in which a house takes part. */
  readonly looksAt: ReadonlyMap<number, readonly number[]>;
  /** The houses that show its pace. */
  readonly telling: ReadonlySet<number>;
}

/** Of houses that keep step with a house so many nearest ones are looked at with it: nobody goes through hundreds. */
const COMPANIONS = 40;

/** What tells a light from that of a display in order. */
interface Unlike {
  /** Houses that do not do as they should, with the time after which that is sure; the earliest first. */
  readonly houses: ReadonlyMap<number, Micros>;
  /** For boards that are not followed with a watch, by index, what in a round is not as it should be, as a word for equal answers. */
  readonly answers: ReadonlyMap<number, string>;
}

/** When two lights are told apart by somebody who watches from switch-on. */
export class Telling {
  /**
   * Houses that are not followed with a watch, how much longer than usual the first step of their boards may be, and how
   * long one must watch at least.
   */
  private readonly others: ReadonlyMap<number, { readonly extra: number; readonly least: number }>;
  private readonly boards: readonly Timeless[];
  private readonly firsts = new PairMap<number>();
  private readonly stays = new PairMap<string>();
  private readonly longest = new Map<Turns, Stretches>();
  private readonly unlike = new Map<Light, Unlike>();

  constructor(private readonly table: FaultTable) {
    const { scenario, healthy, rounds, timeless } = table;
    const houses = timelessHouses(table);
    const extras = firstExtras(scenario);
    this.others = new Map([...houses].map((house) => {
      const boards = lightedBy(scenario, house);
      const random = boards.filter((b) => movesAtRandom(scenario, b));
      return [house, { extra: Math.max(...boards.map((b) => extras[b]!)), least: Math.max(0, ...random.map((b) => rounds[b]!)) }];
    }));
    this.boards = [...timeless].flatMap((board): Timeless[] => {
      const round = rounds[board]!;
      if (round > healthy.length) return [];
      const own = [...houses].filter((house) => lightedBy(scenario, house).includes(board));
      const looks = own.flatMap((house) => nearest(companions(scenario, house), house).map((other) => [house, other] as const));
      return [{ board, round, looks, looksAt: listsWith(looks), telling: new Set(tellingHouses(scenario, board)) }];
    });
  }

  /** For each group of lights the groups that have to do with a house or a board in common, by index. */
  meeting(groups: readonly (readonly Light[])[]): ReadonlySet<number>[] {
    const touched = groups.map((lights) => {
      const all = lights.map((light) => this.unlikeOf(light));
      return new Set(all.flatMap(({ houses, answers }) => [...houses.keys(), ...[...answers.keys()].map((w) => -1 - w)]));
    });
    const touching = listsWith(touched);
    return touched.map((things) => {
      const met = new Set<number>();
      for (const thing of things) for (const g of touching.get(thing)!) met.add(g);
      return met;
    });
  }

  /** How long after switch-on; Infinity: not for sure in one opening. */
  after(a: Light, b: Light): Micros {
    const [ofA, ofB] = [this.unlikeOf(a), this.unlikeOf(b)];
    const [few, many] = ofA.houses.size <= ofB.houses.size ? [ofA.houses, ofB.houses] : [ofB.houses, ofA.houses];
    let least = Math.min(firstWithout(few, many), firstWithout(many, few));
    for (const house of few.keys()) if (many.has(house)) least = Math.min(least, this.houseApart(house, a.turnsOf(house), b.turnsOf(house), a.length));
    for (const w of new Set([...ofA.answers.keys(), ...ofB.answers.keys()])) {
      if (ofA.answers.get(w) !== ofB.answers.get(w)) least = Math.min(least, this.boards[w]!.round);
    }
    return least;
  }

  /** Worked out once for a light. */
  private unlikeOf(light: Light): Unlike {
    const known = this.unlike.get(light);
    if (known !== undefined) return known;
    const { healthy } = this.table;
    const differing = light.differences(healthy);
    const times = differing.map((house) => [house, this.houseApart(house, light.turnsOf(house), healthy.turnsOf(house), light.length)] as const);
    times.sort(([, one], [, other]) => (one === other ? 0 : one - other));
    const answers = this.boards.flatMap((timeless, w) => {
      const answer = this.answer(timeless, light, differing);
      return answer === "" ? [] : [[w, answer] as const];
    });
    const made = { houses: new Map(times), answers: new Map(answers) };
    this.unlike.set(light, made);
    return made;
  }

  /** What the houses of a board do in a round other than they should, as one word that is equal for equal answers; "": nothing. */
  private answer({ board, round, looks, looksAt, telling }: Timeless, light: Light, differing: readonly number[]): string {
    const { healthy } = this.table;
    const stay = (of: Light, [house, other]: readonly [number, number]): string =>
      this.stays.get(of.turnsOf(house), of.turnsOf(other), () => of.staysWhile(house, other, round));
    const asked = new Set(differing.flatMap((house) => looksAt.get(house) ?? []));
    const stays = [...asked].sort((one, other) => one - other).flatMap((k) => {
      const now = stay(light, looks[k]!);
      return now === stay(healthy, looks[k]!) ? [] : [`${k} ${now}`];
    });
    const paces = !differing.some((house) => telling.has(house)) ? [] : [paceSeen(this.table, board, round, light)].filter((now) => now !== paceSeen(this.table, board, round, healthy));
    return [...stays, ...paces].join();
  }

  /** When a house that turns in one way is told from one that turns in the other. */
  private houseApart(house: number, a: Turns, b: Turns, length: Micros): number {
    const other = this.others.get(house);
    if (other === undefined) return this.firstApart(a, b, length);
    return Math.max(other.least, this.outlasts(a, b, length) + other.extra);
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

/** The earliest time of a house that is not among others; Infinity: there is none. */
function firstWithout(houses: ReadonlyMap<number, number>, others: ReadonlyMap<number, number>): number {
  for (const [house, time] of houses) if (!others.has(house)) return time;
  return Infinity;
}

/** The nearest of so many companions of a house, in order. */
function nearest(all: readonly number[], house: number): readonly number[] {
  const below = all.filter((other) => other < house).length;
  const from = Math.max(0, Math.min(all.length - COMPANIONS, below - COMPANIONS / 2));
  return all.length <= COMPANIONS ? all : all.slice(from, from + COMPANIONS);
}

/** For each number that stands in some of the lists the indices of these lists. */
function listsWith(lists: readonly Iterable<number>[]): ReadonlyMap<number, readonly number[]> {
  const found = new Map<number, number[]>();
  lists.forEach((list, k) => {
    for (const one of list) {
      const known = found.get(one);
      if (known === undefined) found.set(one, [k]);
      else known.push(k);
    }
  });
  return found;
}

/**
 * By how much the first step of each board may be longer than others, microseconds. Behind a divider, or with a diode that
 * leaves something on the capacitor, it may be shorter, which lengthens nothing that is looked at.
 */
function firstExtras(scenario: Scenario): number[] {
  return boardTimes(scenario).map(({ stepSeconds, firstStepSeconds }, b) => {
    const { counter } = scenario.boards[b]!;
    return holds(counter).most * Math.max(0, firstStepSeconds - stepSeconds) * SECOND;
  });
}
