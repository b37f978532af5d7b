import type { Disorder } from "../engine/simulate.js";
import type { Board, Scenario } from "../model/scenario.js";
import type { FaultyDisplay } from "./planted.js";

/** For each board the boards that are clocked by one another with it; the same set for all that belong together. */
export function linkedBoards({ boards }: Scenario): ReadonlySet<number>[] {
  const sets = boards.map((_, b) => new Set([b]));
  for (const [b, { timer }] of boards.entries()) {
    if (timer.kind !== "carry") continue;
    const [mine, source] = [sets[b]!, sets[timer.from]!];
    for (const one of mine) {
      source.add(one);
      sets[one] = source;
    }
  }
  return sets;
}

/** Some boards of a display by themselves, none of which is clocked by one that is left out; their disorder stays. */
export function partOf({ scenario, disorder }: FaultyDisplay, some: ReadonlySet<number>): FaultyDisplay {
  if (some.size === scenario.boards.length) return { scenario, disorder };
  const kept = [...some].sort((one, other) => one - other);
  const place = new Map(kept.map((b, i) => [b, i]));
  const boards = kept.map((b): Board => {
    const board = scenario.boards[b]!;
    return board.timer.kind === "carry" ? { ...board, timer: { ...board.timer, from: place.get(board.timer.from)! } } : board;
  });
  return { scenario: { ...scenario, boards }, disorder: disorderOf(disorder, kept, place) };
}

function disorderOf({ wiring, still, wakes, restarts }: Disorder, kept: readonly number[], place: ReadonlyMap<number, number>): Disorder {
  const restarting = restarts === undefined ? undefined : place.get(restarts.board);
  return {
    ...(wiring === undefined ? {} : { wiring: kept.map((b) => wiring[b]!) }),
    ...(still === undefined ? {} : { still: new Set([...still].flatMap((b) => place.get(b) ?? [])) }),
    ...(wakes === undefined ? {} : { wakes: new Map([...wakes].flatMap(([b, step]) => (place.has(b) ? [[place.get(b)!, step] as const] : []))) }),
    ...(restarting === undefined ? {} : { restarts: { ...restarts!, board: restarting } }),
  };
}
