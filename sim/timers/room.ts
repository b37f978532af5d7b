import type { Room } from "../model/scenario.js";
import { DAY, type Micros } from "../units/time.js";

/** Room temperature in °C at calendar time t (µs): a daily cosine about the mean, highest at `warmest`. */
export function temperature(room: Room, t: Micros): number {
  return room.swing === 0 ? room.mean : room.mean + room.swing * Math.cos((2 * Math.PI * (t - room.warmest)) / DAY);
}
