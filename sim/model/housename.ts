import type { Scenario } from "./scenario.js";

/** What a house is called in sentences: its name, with its id where another has the same name. */
export function houseName({ houses }: Scenario, house: number): string {
  const { id, name } = houses[house]!;
  return houses.some((other, h) => h !== house && other.name === name) ? `${name} (${id})` : name;
}
