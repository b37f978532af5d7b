import type { Room } from "../model/scenario.js";

export const DAY = 86_400_000_000;

/** Room temperature in °C at calendar time t (µs): a daily cosine about the mean, highest at `warmest`. */
export function temperature(room: Room, t: number): number {
  return room.swing === 0 ? room.mean : room.mean + room.swing * Math.cos((2 * Math.PI * (t - room.warmest)) / DAY);
}
