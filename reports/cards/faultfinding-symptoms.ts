import { houseName, housesOf, tellingHouses, type FaultGroup, type FaultTable } from "../../sim/faults/index.js";
import { united, type Light, type Turns } from "../../sim/faults/light.js";
import { pace, paceOff } from "../../sim/faults/pace.js";
import { companions, lightedBy, timelessHouses } from "../../sim/faults/unsteady.js";
import { listed, spokenDuration } from "../../sim/units/text.js";
import { abridgedPhrases, NAMED, named, onWatch, PHRASES } from "./faultfinding-named.js";
import { toSeconds, type Micros, SECOND } from "../../sim/units/time.js";

/** Where a symptom stands on the card. */
export type SymptomKind = "board" | "dark" | "lit" | "unseen";

export interface Symptom {
  readonly kind: SymptomKind;
  /** What one sees, in a few words. */
  readonly text: string;
}

/** A stretch of this length can be seen. */
const SEEN: Micros = 10 * SECOND;
/** A dark pause must be longer by this share than any on a display in order. */
const LONGER = 1.1;

/** A stretch of time in which a house is dark and should be lit, or the other way round. */
interface Difference {
  readonly house: number;
  readonly how: "dark" | "lit";
  readonly from: Micros;
  readonly until: Micros;
}

/** What a display with these faults of board b shows, in words that come from its simulation alone. */
export function symptomOf(table: FaultTable, { lights }: FaultGroup, b: number): Symptom {
  const { scenario, healthy } = table;
  if (lights.some((light) => light.equals(healthy))) return { kind: "unseen", text: "The same as when all is in order" };
  const standing = standstill(table, lights, b);
  if (standing !== null) return { kind: "board", text: standing };
  const slowed = atAnotherPace(table, lights, b);
  if (slowed !== null) return { kind: "board", text: slowed };
  const light = lights[0]!;
  const affected = [...scenario.houses.keys()].filter((house) => light.turnsOf(house) !== healthy.turnsOf(house));
  const staying = affected.filter((house) => light.stays(house, light.length) !== "changing");
  const pause = staying.length > 0 ? null : darkPause(table, light, affected, b);
  if (pause !== null) return pause;
  const changing = affected.filter((house) => !staying.includes(house));
  const timeless = timelessHouses(table);
  const alone = (house: number): boolean => lightedBy(scenario, house).length === 1;
  const phrases = [
    ...(["dark", "lit"] as const).flatMap((how) => {
      const houses = staying.filter((house) => light.stays(house, light.length) === how);
      return houses.length === 0 ? [] : [`${named(table, houses)} ${houses.length === 1 ? "stays" : "stay"} ${how}`];
    }),
    ...inStretches(table, light, changing.filter((house) => !timeless.has(house)), b),
    ...whileOthersAreLit(table, light, changing.filter((house) => timeless.has(house) && alone(house)), b),
    ...moreOrLess(table, light, changing.filter((house) => timeless.has(house) && !alone(house))),
  ];
  const less = affected.every((house) => isLess(light.turnsOf(house), healthy.turnsOf(house)));
  const text = abridgedPhrases(phrases);
  if (lights.length > 1 && !table.timeless.has(b)) return { kind: "board", text: `Goes another way each time, such as: ${text}` };
  return { kind: less ? "dark" : "lit", text };
}

/** "Nothing of this board changes …", where that is so; null where something moves. */
function standstill({ scenario, healthy }: FaultTable, lights: readonly Light[], b: number): string | null {
  const { length } = healthy;
  const all = [...scenario.houses.keys()];
  if (lights.every((light) => all.every((house) => light.stays(house, length) === "dark"))) return "No house of the whole display is lit";
  const still = (board: number): boolean => {
    const houses = tellingHouses(scenario, board);
    const moves = houses.some((house) => healthy.stays(house, length) === "changing");
    return moves && lights.every((light) => houses.every((house) => light.stays(house, length) !== "changing"));
  };
  if (!still(b)) return null;
  const others = scenario.boards.flatMap(({ id }, board) => (board !== b && still(board) ? [id] : []));
  const also = others.length === 0 ? "" : `, nor of board ${listed(others.slice(0, NAMED))}`;
  const { all: lighted, own } = housesOf(scenario, b);
  if (own.length < lighted.length) {
    // what another board lights too goes on changing: only where this board wakes each time differently is there more to say
    if (lights.length === 1 || own.length === 0) return null;
    return `${named({ scenario }, own)} ${own.length === 1 ? "does" : "do"} not change, each time they stay another way`;
  }
  const lit = lights.map((light) => own.filter((house) => light.stays(house, length) === "lit"));
  if (lit.every((houses) => houses.length === 0)) {
    const rest = others.length === 0 ? "" : `; nothing of board ${listed(others.slice(0, NAMED))} changes`;
    return `No house of this board is lit${rest}`;
  }
  if (lit.length > 1) return `Nothing of this board changes${also}; it stays as it was at switch-on, each time another way`;
  const name = named({ scenario }, lit[0]!);
  const rest = lit[0]!.length < own.length ? ", the rest dark" : "";
  return `Nothing of this board changes${also}: ${name} ${lit[0]!.length === 1 ? "stays" : "stay"} lit${rest}`;
}

/** "Changes too seldom, …", where all houses of the board still change, at another pace. */
function atAnotherPace({ scenario, healthy }: FaultTable, lights: readonly Light[], b: number): string | null {
  const houses = tellingHouses(scenario, b);
  const { length } = healthy;
  const own = houses.every((house) => lightedBy(scenario, house).length === 1);
  const moving = lights.every((light) => houses.every((house) => healthy.turnsOf(house) !== light.turnsOf(house) && healthy.stays(house, length) === "changing"));
  const still = lights.every((light) => houses.every((house) => light.stays(house, length) !== "changing"));
  if (!own || !moving || still) return null;
  const planned = pace(healthy, houses, length);
  const off = lights.map((light) => paceOff(light, healthy, houses, length));
  if (planned === null || !(off.every((one) => one === "slow") || off.every((one) => one === "fast"))) return null;
  const paces = lights.map((light) => pace(light, houses, length) ?? Infinity);
  const instead = `instead of every ${spokenDuration(toSeconds(planned))}`;
  const changes = houses.length < housesOf(scenario, b).all.length ? `${named({ scenario }, houses)} ${houses.length === 1 ? "changes" : "change"}` : "Changes";
  if (off[0] === "fast") return `${changes} too often, up to every ${spokenDuration(toSeconds(Math.min(...paces)))} ${instead}`;
  const longest = Math.max(...paces);
  if (longest === Infinity) return `${changes} too seldom ${instead}, or none`;
  return `${changes} too seldom, down to every ${spokenDuration(toSeconds(longest))} ${instead}`;
}

/** "Nothing of this board lit from … to …", where it is dark for longer than it ever should be. */
function darkPause(table: FaultTable, light: Light, affected: readonly number[], b: number): Symptom | null {
  const { scenario, healthy } = table;
  const { all: houses, own: unshared } = housesOf(scenario, b);
  const own = affected.filter((house) => houses.includes(house));
  // nobody can tell whose light a house shows that other boards light too
  if (own.length < 2 || unshared.length < houses.length) return null;
  const usual = Math.max(0, ...pauses(healthy, houses).map(({ from, until }) => until - from));
  const pause = pauses(light, houses).find(({ from, until }) => until - from > Math.max(SEEN, LONGER * usual));
  if (pause === undefined) return null;
  const { from, until } = pause;
  const missed = own.filter((house) => firstDifference(house, light.turnsOf(house), healthy.turnsOf(house), until, from)?.how === "dark");
  const instead = missed.length === 0 || missed.length > PHRASES ? "" : `, instead of ${named(table, missed)}`;
  const when = table.timeless.has(b) ? `for ${spokenDuration(toSeconds(until - from))} at a time` : `${onWatch(from)} to ${onWatch(until)}${instead}`;
  return { kind: own.length === houses.length ? "board" : "dark", text: `Nothing of this board lit ${when}` };
}

/** The times at which none of these houses is lit. */
function pauses(light: Light, houses: readonly number[]): { from: Micros; until: Micros }[] {
  const turns = [0, ...united(houses.map((house) => light.turnsOf(house))), light.length];
  return turns.flatMap((until, i) => (i % 2 === 1 ? [{ from: turns[i - 1]!, until }] : []));
}

/** "Inn dark 9:40 to 12:30 while Fish market lit": the first time each of these houses is not as it should be. */
function inStretches(table: FaultTable, light: Light, houses: readonly number[], b: number): string[] {
  const { healthy } = table;
  const all = houses.flatMap((house) => firstDifference(house, light.turnsOf(house), healthy.turnsOf(house), light.length) ?? []);
  all.sort((x, y) => x.from - y.from);
  const together = new Map<string, Difference[]>();
  for (const one of all) {
    const key = `${one.how} ${one.from} ${one.until}`;
    together.set(key, [...(together.get(key) ?? []), one]);
  }
  return [...together.values()].map((some) => {
    const { how, from, until } = some[0]!;
    const meanwhile = how === "dark" ? litMeanwhile(table, light, b, some) : "";
    return `${named(table, some.map(({ house }) => house))} ${how} ${onWatch(from)} to ${onWatch(until)}${meanwhile}`;
  });
}

/** What else of the board is lit during a stretch: the neighbours on the same output come on at its beginning. */
function litMeanwhile(table: FaultTable, light: Light, b: number, some: readonly Difference[]): string {
  const { from, until } = some[0]!;
  const { all, own: unshared } = housesOf(table.scenario, b);
  const own = unshared.filter((house) => !some.some((one) => one.house === house));
  const lit = own.filter((house) => light.litAt(house, from) && !light.turnsOf(house).some((turn) => turn > from && turn < until));
  const fresh = lit.filter((house) => light.turnsOf(house).includes(from));
  const others = fresh.length > 0 ? fresh : lit;
  if (others.length === 0) {
    const dark = unshared.length === all.length && own.every((house) => !light.litAt(house, from));
    return dark ? ", nothing else of this board lit" : "";
  }
  return ` while ${houseName(table.scenario, others[0]!)} lit`;
}

/** What one sees of houses whose board wakes anywhere, by the light of others of the same board. */
function whileOthersAreLit(table: FaultTable, light: Light, houses: readonly number[], b: number): string[] {
  const { scenario, healthy, rounds } = table;
  const until = Math.min(healthy.length, rounds[b]!);
  return houses.map((house) => {
    const seen = companions(scenario, house).flatMap((other) => {
      const now = light.staysWhile(house, other, until);
      const before = healthy.staysWhile(house, other, until);
      if (now === before || now === "never" || before === "never") return [];
      const otherName = houseName(scenario, other);
      const words = {
        dark: `never lit while ${otherName} is`,
        lit: `always lit while ${otherName} is`,
        changing:
          before === "lit" ? `dark at times while ${otherName} is lit` : `lit at times while ${otherName} is, which it should never be`,
      };
      // the companion that tells this fault from most others
      return [{ text: words[now], alike: staysOf(table, house, other, until).get(now)! }];
    });
    seen.sort((a, c) => a.alike - c.alike);
    const less = isLess(light.turnsOf(house), healthy.turnsOf(house));
    return `${houseName(scenario, house)} ${seen[0]?.text ?? (less ? "lit less than planned" : "lit at other times than planned")}`;
  });
}

/** The lights that change what a house shows, and in how many of them it stays how while another is lit; worked out once. */
interface Changes {
  readonly lights: readonly Light[];
  readonly stays: Map<string, ReadonlyMap<string, number>>;
}

const changesOf = new WeakMap<FaultTable, Map<number, Changes>>();

/**
 * With how many faults a house stays dark, lit or neither while another house is lit, from switch-on until then, of all
 * faults that concern it.
 */
function staysOf(table: FaultTable, house: number, other: number, until: Micros): ReadonlyMap<string, number> {
  const { groups, healthy } = table;
  const houses = changesOf.get(table) ?? new Map<number, Changes>();
  changesOf.set(table, houses);
  const usual = healthy.turnsOf(house);
  const changes: Changes = houses.get(house) ?? { lights: groups.flatMap(({ lights }) => lights.filter((light) => light.turnsOf(house) !== usual)), stays: new Map() };
  houses.set(house, changes);
  const asked = `${other} ${until}`;
  const known = changes.stays.get(asked);
  if (known !== undefined) return known;
  const counts = new Map<string, number>();
  for (const light of changes.lights) {
    const how = light.staysWhile(house, other, until);
    counts.set(how, (counts.get(how) ?? 0) + 1);
  }
  changes.stays.set(asked, counts);
  return counts;
}

/** "Inn lit less than it should be", of houses that other boards light too and at times nobody can foretell. */
function moreOrLess(table: FaultTable, light: Light, houses: readonly number[]): string[] {
  const less = houses.filter((house) => isLess(light.turnsOf(house), table.healthy.turnsOf(house)));
  const more = houses.filter((house) => !less.includes(house));
  return [
    ...(less.length === 0 ? [] : [`${named(table, less)} lit less than planned`]),
    ...(more.length === 0 ? [] : [`${named(table, more)} lit at other times than planned`]),
  ];
}

/** The first stretch that can be seen in which a house is lit by one list of turns and dark by the other. */
function firstDifference(house: number, turns: Turns, usual: Turns, length: number, start = 0): Difference | null {
  let [i, j] = [0, 0];
  for (let from = start; from < length; ) {
    while (i < turns.length && turns[i]! <= from) i++;
    while (j < usual.length && usual[j]! <= from) j++;
    const until = Math.min(turns[i] ?? length, usual[j] ?? length, length);
    if (i % 2 !== j % 2 && until - from >= SEEN) return { house, how: i % 2 === 1 ? "lit" : "dark", from, until };
    from = until;
  }
  return null;
}

/** Whether a house is never lit when it should be dark. */
function isLess(turns: Turns, usual: Turns): boolean {
  return united([turns, usual]).join() === usual.join();
}
