import type { FaultTable } from "./groups.js";
import type { Light } from "./light.js";
import { paceSeen, stayOf, tellingHouses, type Observation, type Sound } from "./observations.js";
import { alikeIn, Tally, type Suspect } from "./tally.js";
import { companions, isUnsteady, lightedBy, timelessHouses } from "./unsteady.js";
import { type Micros, MINUTE, SECOND, toSeconds } from "../units/time.js";

/** A look at one house, or at the houses of one board, from switch-on. */
export interface NextLook {
  readonly house: number;
  /**
   * `moment`: is it lit at `until`? `times`: how many times does it come on until then? `throughout`: does it stay dark
   * or lit until then, or change? `pace`: do the houses of `board`, of which `house` is one, change as often as they should?
   */
  readonly kind: "moment" | "times" | "throughout" | "pace";
  /** Microseconds after switch-on. */
  readonly until: Micros;
  /** For `throughout`: only the times count at which this house is lit. */
  readonly whileLit: number | null;
  readonly board: number | null;
  /** False: it holds only if the boards that wake anywhere, or move at random, do as they do in the simulation. */
  readonly certain: boolean;
}

interface Split {
  readonly look: NextLook;
  /** Groups that are left on average, times the number of groups. */
  readonly leaves: number;
}

/** Stretches shorter than this are hard to hit with a watch in hand. */
export const CLEAR_STRETCH: Micros = 10 * SECOND;
/** In a long stretch a look comes so long after its beginning, and later by this share, as real boards are a little off. */
const SETTLED: Micros = 30 * SECOND;
const OFF_PACE = 0.05;

/**
 * The look that best splits the suspects: the one that leaves fewest of them on average (of two answers, the one nearest to
 * halving), of equal ones the earliest. First among looks in the first round of the slowest board that hold wherever boards
 * wake, then among later ones, then among those that do not. Null when one suspect is left, or when any look may leave all.
 */
export function nextLook(table: FaultTable, suspects: readonly Suspect[]): NextLook | null {
  if (suspects.length < 2) return null;
  const { scenario, healthy, slowestCycle } = table;
  const houses = [...scenario.houses.keys()];
  const wandering = timelessHouses(table);
  const watches = (among: readonly number[], horizon: Micros, clear: Micros): Split[] =>
    among.flatMap((house) => bestWatch(suspects, house, horizon, clear, !lightedBy(scenario, house).some((b) => isUnsteady(scenario, b))));
  const steady = houses.filter((house) => !wandering.has(house));
  const best =
    least([...watches(steady, slowestCycle, CLEAR_STRETCH), ...wholeRounds(table, suspects)]) ??
    least(watches(steady, healthy.length, CLEAR_STRETCH)) ??
    least(watches([...wandering], healthy.length, CLEAR_STRETCH)) ??
    least(watches(houses, healthy.length, 0));
  return best?.look ?? null;
}

/** What one sees of a display that shows `light` when one looks as told: that the house stays dark by which one should look, if it does. */
export function seenBy(sound: Sound, look: NextLook, light: Light): Observation {
  const { house, kind, until, whileLit, board } = look;
  switch (kind) {
    case "times":
      return { kind, house, until, times: light.timesOn(house, until) };
    case "moment":
      return { kind: light.litAt(house, until) ? "lit-at" : "dark-at", house, at: until };
    case "pace":
      return { kind: paceSeen(sound, board!, until, light)!, board: board!, until };
    case "throughout": {
      const stay = stayOf(light, look);
      return stay === "never" ? { kind: "dark", house: whileLit!, until, whileLit: null } : { kind: stay, house, until, whileLit };
    }
  }
}

/**
 * Looks that show the same wherever boards wake: a whole round of a house, alone or while another of its board is lit,
 * or a board's pace.
 */
function wholeRounds(table: FaultTable, suspects: readonly Suspect[]): Split[] {
  const { scenario, rounds, healthy, timeless } = table;
  const untilOf = (boards: readonly number[]): number => Math.ceil(Math.max(...boards.map((b) => rounds[b]!)) / MINUTE) * MINUTE;
  const ofHouses = [...timelessHouses(table)].flatMap((house): NextLook[] => {
    // of several boards nobody knows how they meet
    if (lightedBy(scenario, house).length > 1) return [];
    const look = { house, kind: "throughout", until: untilOf(lightedBy(scenario, house)), board: null, certain: true } as const;
    return [null, ...companions(scenario, house)].map((whileLit) => ({ ...look, whileLit }));
  });
  const ofBoards = scenario.boards.flatMap((_, board): NextLook[] => {
    const [house] = tellingHouses(scenario, board);
    const until = untilOf([board]);
    if (house === undefined || !timeless.has(board) || paceSeen(table, board, until, healthy) === null) return [];
    return [{ house, kind: "pace", until, whileLit: null, board, certain: true }];
  });
  return [...ofHouses, ...ofBoards].flatMap((look) => {
    if (look.until > healthy.length) return [];
    const tally = new Tally<string | null>();
    const houses = look.board === null ? [look.house, ...(look.whileLit === null ? [] : [look.whileLit])] : tellingHouses(scenario, look.board);
    for (const one of alikeIn(suspects, houses)) {
      tally.add(look.board === null ? stayOf(one.light, look) : paceSeen(table, look.board, look.until, one.light), one);
    }
    return told(look, tally, suspects);
  });
}

/** The look with what it leaves; nothing when every answer leaves all suspects. */
function told(look: NextLook, { leaves }: Tally<unknown>, suspects: readonly Suspect[]): Split[] {
  return leaves < suspects.length ** 2 ? [{ look, leaves }] : [];
}

/**
 * The best time before `horizon` until which to watch a house: in a stretch of `clear` microseconds or more in which it
 * neither comes on nor goes off whatever the fault. Asks whether it is lit then, or how many times it came on.
 */
function bestWatch(suspects: readonly Suspect[], house: number, horizon: Micros, clear: Micros, certain: boolean): Split[] {
  const classes = alikeIn(suspects, [house]);
  if (classes.length === 1) return [];
  const turns = classes.flatMap((one) => one.light.turnsOf(house).flatMap((at, i) => (at < horizon ? [{ at, i, one }] : [])));
  turns.sort((a, b) => a.at - b.at);
  const lit = new Tally<boolean>();
  const times = new Tally<number>();
  for (const one of classes) {
    lit.add(false, one);
    times.add(0, one);
  }
  let best: Split[] = [];
  for (const [n, { at, i, one }] of turns.entries()) {
    const on = i % 2 === 0;
    lit.remove(!on, one);
    lit.add(on, one);
    if (on) {
      times.remove(i / 2, one);
      times.add(i / 2 + 1, one);
    }
    const next = turns[n + 1]?.at ?? horizon;
    if (next === at || next - at < clear) continue;
    const [kind, tally] = lit.leaves <= times.leaves ? (["moment", lit] as const) : (["times", times] as const);
    if (tally.leaves >= (best[0]?.leaves ?? Infinity)) continue;
    const when = Math.min((at + next) / 2, at + SETTLED + at * OFF_PACE);
    // a turn at the very moment counts for `moment`, and not yet for `times`
    const until = clear > 0 ? Math.round(toSeconds(when)) * SECOND : kind === "moment" ? Math.floor(when) : Math.ceil(when);
    best = told({ house, kind, until, whileLit: null, board: null, certain }, tally, suspects);
  }
  return best;
}

function least(splits: readonly Split[]): Split | undefined {
  return splits.reduce<Split | undefined>(
    (best, split) =>
      best === undefined || split.leaves < best.leaves || (split.leaves === best.leaves && split.look.until < best.look.until) ? split : best,
    undefined,
  );
}
