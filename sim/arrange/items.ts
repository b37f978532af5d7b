import { sequence, type Sequence } from "../counters/sequence.js";
import type { Load, Scenario } from "../model/scenario.js";

/** One output of one board. */
export interface Place {
  readonly board: number;
  readonly output: number;
}

/** Houses that are moved as one: a single house, or several that are wished together. */
export interface Item {
  readonly houses: readonly number[];
  /** Stays where it is. */
  readonly fixed: boolean;
  /** Lit by several boards already, and so free to be on several; all others stay on one board. */
  readonly spanning: boolean;
  /** The only board it may be on; null: any. */
  readonly board: number | null;
  /** Its lamps are one set whatever outputs switch them, so that it may have more or fewer outputs. */
  readonly together: boolean;
}

/** What hangs where: `at[item]` are numbers of places, ascending in order of the file at the start. */
export type Placing = readonly (readonly number[])[];

/** A display taken apart into places and items. */
export interface Layout {
  readonly scenario: Scenario;
  readonly sequences: readonly Sequence[];
  readonly places: readonly Place[];
  /** Numbers of the places of each board. */
  readonly placesOf: readonly (readonly number[])[];
  readonly items: readonly Item[];
  /** What one house brings to an output: its lamps. */
  readonly loads: readonly Load[];
  /** Where the search begins: today's arrangement, with items wished together or onto a board brought there. */
  readonly start: Placing;
}

/**
 * Takes a display apart, by its wishes. Houses wired apart, or with different lamps on different outputs, keep the number of their
 * outputs; the lamps of a house are those of its first mention.
 */
export function layoutOf(scenario: Scenario): Layout {
  const { boards, houses, wishes } = scenario;
  const sequences = boards.map(({ counter }) => sequence(counter));
  const places = boards.flatMap((_, board) => Array.from({ length: sequences[board]!.outputs }, (__, output) => ({ board, output })));
  const placesOf = boards.map((_, board) => places.flatMap((place, p) => (place.board === board ? [p] : [])));
  const mentions = houses.map((_, house) =>
    places.flatMap(({ board, output }, place) => (boards[board]!.outputs[output] ?? []).filter((load) => load.house === house).map((load) => ({ place, load }))),
  );
  const groups = groupsOf(houses.length, wishes.together).filter(([first]) => mentions[first!]!.length > 0);
  const items = groups.map((members): Item => {
    const own = members.map((house) => mentions[house]!);
    const onBoards = new Set(own.flat().map(({ place }) => places[place]!.board));
    const wished = members.flatMap((house) => wishes.board.get(house) ?? []);
    return {
      houses: members,
      fixed: members.some((house) => wishes.keep.includes(house)),
      spanning: members.length === 1 && onBoards.size > 1,
      board: wished[0] ?? null,
      together: members.every((house, m) => houses[house]!.wired === "together" && alike(own[m]!.map(({ load }) => load))),
    };
  });
  const start = items.map((item) => {
    const leader = item.houses.find((house) => wishes.keep.includes(house)) ?? item.houses[0]!;
    const now = [...new Set(mentions[leader]!.map(({ place }) => place))];
    if (item.board === null || now.every((place) => places[place]!.board === item.board)) return now;
    const there = placesOf[item.board]!;
    return now.slice(0, there.length).map((_, k) => there[k]!);
  });
  const loads = houses.map((_, house) => mentions[house]![0]?.load ?? { house, lamps: 1, lamp: 0 });
  return { scenario, sequences, places, placesOf, items, loads, start };
}

function alike(loads: readonly Load[]): boolean {
  return loads.every(({ lamps, lamp }) => lamps === loads[0]!.lamps && lamp === loads[0]!.lamp);
}

/** Houses wished together, directly or through others; each other house by itself. */
function groupsOf(houses: number, together: readonly (readonly number[])[]): number[][] {
  const group = Array.from({ length: houses }, (_, house) => house);
  for (const [first, ...others] of together) {
    for (const other of others) {
      const [from, to] = [group[other]!, group[first!]!];
      group.forEach((one, house) => {
        if (one === from) group[house] = to;
      });
    }
  }
  return [...new Set(group)].map((name) => group.flatMap((one, house) => (one === name ? [house] : [])));
}

/** The scenario with its houses on other outputs. */
export function arranged({ scenario, places, items, loads }: Layout, placing: Placing): Scenario {
  const boards = scenario.boards.map((board) => ({ ...board, outputs: board.outputs.map((): Load[] => []) }));
  items.forEach(({ houses }, item) => {
    for (const place of placing[item]!) {
      const { board, output } = places[place]!;
      for (const house of houses) boards[board]!.outputs[output]!.push(loads[house]!);
    }
  });
  for (const { outputs } of boards) for (const output of outputs) output.sort((a, b) => a.house - b.house);
  return { ...scenario, boards };
}
