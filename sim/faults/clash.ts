import type { Scenario } from "../model/scenario.js";
import { tellingHouses, type Observation } from "./observations.js";
import type { Micros } from "../units/time.js";

/**
 * Some of the observations that cannot all be true, whatever the display; undefined when all can. As few as will do: each
 * of them is needed for the contradiction.
 */
export function contradiction(scenario: Scenario, all: readonly Observation[]): readonly Observation[] | undefined {
  if (possible(scenario, all)) return undefined;
  for (let count = 2; count <= all.length; count++) {
    const some = all.slice(0, count);
    if (possible(scenario, some)) continue;
    let needed = some;
    for (const one of some) {
      const without = needed.filter((other) => other !== one);
      if (!possible(scenario, without)) needed = without;
    }
    return needed;
  }
  return undefined;
}

/** Whether some display can show all this: pace and moving, and house by house. */
function possible(scenario: Scenario, all: readonly Observation[]): boolean {
  const still = all.flatMap((seen) => (seen.kind === "frozen" ? [{ ...seen, houses: tellingHouses(scenario, seen.board) }] : []));
  const moving = all.flatMap((seen) => (seen.kind === "slow" || seen.kind === "fast" || seen.kind === "on-pace" ? [seen] : []));
  const paced = moving.every(
    ({ board, until, kind }) =>
      (kind === "slow" || !still.some((frozen) => frozen.board === board && until <= frozen.until)) &&
      !moving.some((other) => other.board === board && other.until === until && other.kind !== kind),
  );
  return (
    paced &&
    scenario.houses.every((_, house) => {
      const unchanged = Math.max(0, ...still.filter(({ houses }) => houses.includes(house)).map(({ until }) => until));
      return possibleHouse(unchanged, all.filter((seen) => "house" in seen && seen.house === house)) && possibleWhile(house, all);
    })
  );
}

/** Whether a house that does not change until `unchanged` can be seen so. */
function possibleHouse(unchanged: number, seen: readonly Observation[]): boolean {
  const stays = seen.filter((one) => (one.kind === "dark" || one.kind === "lit") && one.whileLit === null);
  const known = [
    ...stays.map(({ kind }) => ({ at: 0, lit: kind === "lit" })),
    ...seen.flatMap((one) => (one.kind === "dark-at" || one.kind === "lit-at" ? [{ at: one.at, lit: one.kind === "lit-at" }] : [])),
  ].sort((a, b) => a.at - b.at);
  const settled = Math.max(unchanged, ...stays.map((one) => ("until" in one ? one.until : 0)));
  const early = known.filter(({ at }) => at < settled);
  if (early.some(({ lit }) => lit !== early[0]!.lit)) return false;
  if (known.some(({ at, lit }, i) => i > 0 && known[i - 1]!.at === at && known[i - 1]!.lit !== lit)) return false;
  if (seen.some((one) => one.kind === "changing" && one.until <= settled)) return false;
  const counts = seen.filter((one) => one.kind === "times");
  return counts.every(({ until, times }) => {
    const later = counts.some((other) => (other.until > until && other.times < times) || (other.until === until && other.times !== times));
    if (later || times < lightings(known, until)) return false;
    // while it does not change it has come on once if it is lit, and never if it is dark
    if (until <= settled) return early.length === 0 ? times <= 1 : times === (early[0]!.lit ? 1 : 0);
    return !seen.some((one) => one.kind === "changing" && one.until <= until && times === 0);
  });
}

/** How many times a house has come on at least, from what is known of it before `until`. */
function lightings(known: readonly { readonly at: Micros; readonly lit: boolean }[], until: Micros): number {
  const seen = known.filter(({ at }) => at < until);
  return seen.filter(({ lit }, i) => lit && seen[i - 1]?.lit !== true).length;
}

/** Whether what was seen of a house while others were lit goes with what was seen of it all the time. */
function possibleWhile(house: number, all: readonly Observation[]): boolean {
  const stays = all.flatMap((seen) => ("whileLit" in seen && seen.house === house ? [seen] : []));
  return stays.every((a) => {
    if (a.whileLit === null) return true;
    // the other house was lit at some time, and while it was, this one must have stayed as it did all the time
    const never = all.some((seen) => seen.kind === "dark" && seen.house === a.whileLit && seen.whileLit === null && seen.until >= a.until);
    const bound = stays.filter((b) => b.kind !== "changing" && b.until >= a.until && (b.whileLit === null || b.whileLit === a.whileLit));
    return !never && bound.every((b) => b.kind === a.kind);
  });
}
