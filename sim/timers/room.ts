import type { Room } from "../model/scenario.js";
import { DAY, type Micros } from "../units/time.js";

/** Room temperature in °C at calendar time t (µs): a daily cosine about the mean, highest at `warmest`. */
export function temperature(room: Room, t: Micros): number {
  return room.swing === 0 ? room.mean : room.mean + room.swing * warmth(room, t);
}

/** Where the temperature is in its swing at time t (µs): 1 at its highest, −1 at its lowest. */
function warmth({ warmest }: Room, t: Micros): number {
  return Math.cos((2 * Math.PI * (t - warmest)) / DAY);
}
