import type { House } from "../../sim/model/scenario.js";

/** Houses of one zone, by number in the scenario; zone null: those in none. */
export interface Group {
  readonly zone: string | null;
  readonly houses: readonly number[];
}

/** More houses than this are not drawn one by one: nobody could tell them apart. */
export const DRAWN_LIMIT = 400;

/** The houses that pictures show, by zone in order of first mention; those without a zone come last. */
export function drawnGroups(houses: readonly House[]): Group[] {
  const byZone = new Map<string | null, number[]>();
  houses.slice(0, DRAWN_LIMIT).forEach(({ zone }, house) => {
    const group = byZone.get(zone);
    if (group === undefined) byZone.set(zone, [house]);
    else group.push(house);
  });
  const rest = byZone.get(null);
  byZone.delete(null);
  if (rest !== undefined) byZone.set(null, rest);
  return [...byZone].map(([zone, members]) => ({ zone, houses: members }));
}

/** What stands over a group; null where there is only one and it has no zone. */
export function groupHeading({ zone }: Group, groups: readonly Group[]): string | null {
  if (zone !== null) return zone;
  return groups.length > 1 ? "in no zone" : null;
}
