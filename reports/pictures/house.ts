import { decimal } from "./drawing.js";
import type { Spot } from "./spots.js";

/** The outline of a house, walls and gable, as the data of a path; its middle is at the spot. */
export function houseOutline({ x, y }: Spot, size: number): string {
  const half = size / 2;
  const eaves = size * 0.42;
  return `M${decimal(x - half)} ${decimal(y + half)}v${decimal(eaves - size)}L${decimal(x)} ${decimal(y - half)}L${decimal(x + half)} ` +
    `${decimal(y - half + eaves)}v${decimal(size - eaves)}z`;
}

/** Many houses as one path. */
export function houseOutlines(spots: readonly Spot[], size: number): string {
  return spots.map((spot) => houseOutline(spot, size)).join("");
}
