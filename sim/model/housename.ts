import type { Scenario } from "./scenario.js";

type Houses = Pick<Scenario, "houses">;

/** What a house is called wherever a person reads it: its name, with its id where another has the same name. */
export function houseName({ houses }: Houses, house: number): string {
  const { id, name } = houses[house]!;
  return houses.some((other, h) => h !== house && other.name === name) ? `${name} (${id})` : name;
}

/** {@link houseName} of every house. */
export function houseNames({ houses }: Houses): string[] {
  const bearers = new Map<string, number>();
  for (const { name } of houses) bearers.set(name, (bearers.get(name) ?? 0) + 1);
  return houses.map(({ id, name }) => (bearers.get(name) === 1 ? name : `${name} (${id})`));
}
