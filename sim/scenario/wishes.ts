import type * as z from "zod/mini";
import type { Board, House } from "../model/scenario.js";
import { NO_WISHES, type Wishes } from "../model/wishes.js";
import { knownHouses } from "./named.js";
import { knownWords } from "./problems.js";
import type { arrangeSchema } from "./schema.js";

type Path = readonly (string | number)[];
type Report = (path: Path, message: string) => void;

/**
 * The wishes for `arrange`, by index of house and board. Names that are not there are reported, and two wishes that cannot
 * both be kept are named together, at the later of the two.
 */
export function resolveWishes(
  file: z.output<typeof arrangeSchema> | undefined,
  houses: readonly House[],
  boards: readonly Board[],
  report: Report,
): Wishes {
  if (file === undefined) return NO_WISHES;
  const lit = new Set(boards.flatMap(({ outputs }) => outputs.flatMap((loads) => loads.map(({ house }) => house))));
  const houseIds = houses.map(({ id }) => id);
  const houseAt = (path: Path, id: string): number[] => {
    const house = houseIds.indexOf(id);
    if (house < 0) report(path, `no house is called "${id}"; ${knownHouses(id, houses)}`);
    else if (!lit.has(house)) report(path, `no output lights ${id}; put it on an output first, or take it out here`);
    return house >= 0 && lit.has(house) ? [house] : [];
  };
  const groups = (key: "together" | "apart"): number[][] =>
    file[key].map((group, g) => group.flatMap((id, n) => houseAt(["arrange", key, g, n], id)));
  const boardIds = boards.map(({ id }) => id);
  const wishes: Wishes = {
    together: groups("together"),
    apart: groups("apart"),
    keep: file.keep.flatMap((id, n) => houseAt(["arrange", "keep", n], id)),
    perOutput: file.perOutput ?? null,
    board: new Map(
      Object.entries(file.board).flatMap(([house, id]) => {
        const board = boardIds.indexOf(id);
        const path = ["arrange", "board", house];
        if (board < 0) report(path, `no board is called "${id}"; ${knownWords(id, boardIds, "boards")}`);
        return houseAt(path, house).flatMap((index) => (board < 0 ? [] : [[index, board] as const]));
      }),
    ),
  };
  reportClashes(wishes, houses, boards, report);
  return wishes;
}

/** Pairs of wishes that no arrangement can keep. */
function reportClashes(wishes: Wishes, houses: readonly House[], boards: readonly Board[], report: Report): void {
  const { together, apart, keep, perOutput, board } = wishes;
  const name = (house: number): string => houses[house]!.id;
  const placesOf = (house: number): string[] =>
    boards.flatMap(({ id, outputs }) => outputs.flatMap((loads, o) => (loads.some((load) => load.house === house) ? [`${id} output ${o}`] : [])));
  const groups = boundGroups(together);
  const reason = (group: Bound): string => group.wishes.map((g) => `arrange.together[${g}]`).join(" with ");

  apart.forEach((members, n) => {
    for (const [i, a] of members.entries()) {
      for (const b of members.slice(i + 1)) {
        const group = groups.find(({ houses: all }) => all.includes(a) && all.includes(b));
        const clash = (other: string): void =>
          report(["arrange", "apart", n], `${name(a)} and ${name(b)} cannot be on different outputs: ${other}; take one of the two out`);
        if (group !== undefined) clash(`${reason(group)} wants them on the same`);
        else if (keep.includes(a) && keep.includes(b)) {
          const both = placesOf(a).find((place) => placesOf(b).includes(place));
          if (both !== undefined) clash(`arrange.keep leaves both on ${both}`);
        }
      }
    }
  });
  for (const group of groups) {
    const first = group.wishes[0]!;
    const at: Path = ["arrange", "together", first];
    const wished = group.houses.filter((house) => board.has(house));
    const other = wished.find((house) => board.get(house) !== board.get(wished[0]!));
    if (other !== undefined) {
      const says = `arrange.board puts ${name(wished[0]!)} on ${boards[board.get(wished[0]!)!]!.id} and ${name(other)} on ` +
        boards[board.get(other)!]!.id;
      report(at, `${name(wished[0]!)} and ${name(other)} cannot be on the same outputs: ${says}; take one of the two out`);
    }
    const kept = group.houses.filter((house) => keep.includes(house));
    const elsewhere = kept.find((house) => placesOf(house).join() !== placesOf(kept[0]!).join());
    if (elsewhere !== undefined) {
      const says = `arrange.keep leaves ${name(kept[0]!)} on ${placesOf(kept[0]!).join(", ")} and ${name(elsewhere)} on ` +
        placesOf(elsewhere).join(", ");
      report(at, `${name(kept[0]!)} and ${name(elsewhere)} cannot be on the same outputs: ${says}; take one of the two out`);
    }
    const bound = wished.flatMap((house) => kept.filter((one) => one !== house && strayOf(placesOf(one), boards[board.get(house)!]!) !== null).map((one) => [house, one] as const))[0];
    if (bound !== undefined) {
      const [house, one] = bound;
      const says = `arrange.board puts ${name(house)} on ${boards[board.get(house)!]!.id} and arrange.keep leaves ${name(one)} on ` +
        placesOf(one).join(", ");
      report(at, `${name(house)} and ${name(one)} cannot be on the same outputs: ${says}; take one of the two out`);
    }
    if (perOutput !== null && group.houses.length > perOutput) {
      report(
        ["arrange", "perOutput"],
        `found ${perOutput}, but ${reason(group)} wants ${group.houses.length} houses on one output ` +
          `(${group.houses.map(name).join(", ")}); take one of the two out`,
      );
    }
  }
  for (const [house, wished] of board) {
    if (!keep.includes(house)) continue;
    const stray = strayOf(placesOf(house), boards[wished]!);
    if (stray === null) continue;
    report(["arrange", "board", name(house)], `${name(house)} cannot go to ${boards[wished]!.id}: arrange.keep leaves it on ${stray}; ` +
      "take one of the two out");
  }
  if (perOutput !== null) reportCrowds(wishes, perOutput, houses, boards, report);
}

/** The first of these places that is not on a board; null where all are. */
function strayOf(places: readonly string[], { id }: Board): string | null {
  return places.find((place) => !place.startsWith(`${id} output `)) ?? null;
}

/** Outputs that `keep` fills beyond `perOutput`, and more houses than all outputs may take. */
function reportCrowds({ keep }: Wishes, perOutput: number, houses: readonly House[], boards: readonly Board[], report: Report): void {
  const at = ["arrange", "perOutput"];
  for (const { id, outputs } of boards) {
    outputs.forEach((loads, output) => {
      const kept = [...new Set(loads.map(({ house }) => house))].filter((house) => keep.includes(house));
      if (kept.length <= perOutput) return;
      const names = kept.map((house) => houses[house]!.id).join(", ");
      report(at, `found ${perOutput}, but arrange.keep leaves ${kept.length} houses on ${id} output ${output} (${names}); take one of ` +
        "the two out");
    });
  }
  const places = boards.reduce((sum, { outputs }) => sum + outputs.length, 0);
  const lit = new Set(boards.flatMap(({ outputs }) => outputs.flat().map(({ house }) => house))).size;
  if (lit > places * perOutput) {
    report(at, `found ${perOutput}, but ${lit} houses on ${places} outputs need at least ${Math.ceil(lit / places)}`);
  }
}

interface Bound {
  readonly houses: readonly number[];
  /** Numbers of the `together` wishes that bind them. */
  readonly wishes: readonly number[];
}

/** Houses bound together, directly or through others. */
function boundGroups(together: readonly (readonly number[])[]): Bound[] {
  const left = together.map((members, wish) => ({ houses: new Set(members), wishes: [wish] }));
  const done: Bound[] = [];
  for (let group = left.shift(); group !== undefined; group = left.shift()) {
    for (let next = left.findIndex((other) => overlaps(other.houses, group.houses)); next >= 0; ) {
      const [other] = left.splice(next, 1);
      other!.houses.forEach((house) => group.houses.add(house));
      group.wishes.push(...other!.wishes);
      next = left.findIndex((one) => overlaps(one.houses, group.houses));
    }
    done.push({ houses: [...group.houses], wishes: group.wishes });
  }
  return done;
}

function overlaps(a: ReadonlySet<number>, b: ReadonlySet<number>): boolean {
  return [...a].some((one) => b.has(one));
}
