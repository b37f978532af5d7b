import type { Supply } from "../model/scenario.js";

/** An unregulated supply gives up to so many times its rated volts at light load (common practice, no source). */
const LIGHT_LOAD = 1.4;

/** The most volts that chips on the boards may see. */
export interface LightLoad {
  readonly volts: number;
  readonly steady: boolean;
  /** What to add to the source of a limit; nothing for a steady supply. */
  readonly because: string;
}

/** What the supply gives at most: a regulated one its volts, any other more at light load. */
export function atLightLoad({ volts, regulated, regulator }: Supply): LightLoad {
  if (regulated || regulator !== null) return { volts, steady: true, because: "" };
  const because = `; an unregulated supply gives up to ${LIGHT_LOAD} times its volts at light load (common practice, no source)`;
  return { volts: LIGHT_LOAD * volts, steady: false, because };
}
