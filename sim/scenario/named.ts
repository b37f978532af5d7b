import { knownWords } from "./problems.js";
import { mapping } from "./reading.js";

interface Named {
  readonly id: string;
  readonly name: string;
}

/** What is said of a word that should be the id of a house: its id where the word is a name, or the nearest ids. */
export function knownHouses(found: string, houses: readonly Named[]): string {
  const meant = idsMeant(found, houses);
  if (meant === null) return knownWords(found, houses.map(({ id }) => id), "houses");
  const ids = meant.length === 1 ? `"${meant[0]}"` : `[${meant.join(", ")}]`;
  return `did you mean ${ids}? Houses are called here by their keys under "houses"`;
}

/** As {@link knownHouses} for a text that cannot be an id, in a file as plain data; empty where it names no house. */
export function housesHint(data: unknown, found: unknown): string {
  if (typeof found !== "string") return "";
  const houses = Object.entries(mapping(mapping(data)["houses"])).map(([id, house]) => {
    const { name } = mapping(house);
    return { id, name: typeof name === "string" ? name : id };
  });
  return idsMeant(found, houses) === null ? "" : `; ${knownHouses(found, houses)}`;
}

/** The ids of the houses that a text names: by name, by an id written otherwise, or several with spaces between; null where it does not. */
function idsMeant(found: string, houses: readonly Named[]): string[] | null {
  const called = index.get(houses) ?? byPlainNames(houses);
  index.set(houses, called);
  const one = (text: string): readonly string[] => called.get(plain(text)) ?? [];
  const whole = one(found);
  if (whole.length > 0) return whole.slice(0, 1);
  const words = found.trim().split(/[\s,;]+/).map(one);
  return words.length > 1 && words.every((ids) => ids.length > 0) ? words.map((ids) => ids[0]!) : null;
}

/** For each list of houses what it is looked up in: a file may name thousands of houses that it does not have. */
const index = new WeakMap<readonly Named[], ReadonlyMap<string, readonly string[]>>();

/** The ids that are written so, or whose houses are called so, in the order of the houses. */
function byPlainNames(houses: readonly Named[]): ReadonlyMap<string, readonly string[]> {
  const ids = new Map<string, string[]>();
  for (const { id, name } of houses) for (const word of new Set([plain(id), plain(name)])) ids.set(word, [...(ids.get(word) ?? []), id]);
  return ids;
}

/** A name without what people leave out or write otherwise. */
function plain(text: string): string {
  return text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, "");
}
