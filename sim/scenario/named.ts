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
  const one = (text: string): string[] => houses.filter(({ id, name }) => plain(id) === plain(text) || plain(name) === plain(text)).map(({ id }) => id);
  const whole = one(found);
  if (whole.length > 0) return whole.slice(0, 1);
  const words = found.trim().split(/[\s,;]+/).map(one);
  return words.length > 1 && words.every((ids) => ids.length > 0) ? words.map((ids) => ids[0]!) : null;
}

/** A name without what people leave out or write otherwise. */
function plain(text: string): string {
  return text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, "");
}
