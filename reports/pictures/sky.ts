import { HOUR, type Micros } from "../../sim/units/time.js";

/** The sky of the night picture: it stays dark enough for lamps to shine, and its tone tells the time of day. */

type Colour = readonly [red: number, green: number, blue: number];

interface Tone {
  /** Hour from midnight. */
  readonly hour: number;
  readonly zenith: Colour;
  readonly horizon: Colour;
  /** How well stars are seen, 0 … 1. */
  readonly stars: number;
}

/** Chosen by eye. */
const TONES: readonly Tone[] = [
  { hour: 0, zenith: [5, 9, 22], horizon: [19, 30, 56], stars: 1 },
  { hour: 5, zenith: [8, 16, 38], horizon: [46, 48, 86], stars: 0.8 },
  { hour: 7, zenith: [18, 36, 72], horizon: [168, 104, 92], stars: 0.25 },
  { hour: 9, zenith: [20, 48, 88], horizon: [104, 132, 160], stars: 0.08 },
  { hour: 13, zenith: [20, 54, 98], horizon: [98, 144, 178], stars: 0.04 },
  { hour: 16, zenith: [20, 46, 88], horizon: [140, 140, 150], stars: 0.08 },
  { hour: 18, zenith: [17, 32, 70], horizon: [186, 112, 82], stars: 0.3 },
  { hour: 20, zenith: [10, 19, 46], horizon: [74, 54, 94], stars: 0.75 },
  { hour: 24, zenith: [5, 9, 22], horizon: [19, 30, 56], stars: 1 },
];

export interface Sky {
  readonly zenith: string;
  readonly horizon: string;
  readonly stars: number;
}

/** The sky at a time of day. */
export function skyAt(time: Micros): Sky {
  const hour = time / HOUR;
  const after = Math.max(1, TONES.findIndex((tone) => hour <= tone.hour));
  const [one, two] = [TONES[after - 1]!, TONES[after]!];
  const share = Math.min(1, (hour - one.hour) / (two.hour - one.hour));
  const between = (a: number, b: number): number => a + (b - a) * share;
  const mixed = (a: Colour, b: Colour): string => `rgb(${a.map((channel, i) => Math.round(between(channel, b[i]!))).join(" ")})`;
  return { zenith: mixed(one.zenith, two.zenith), horizon: mixed(one.horizon, two.horizon), stars: between(one.stars, two.stars) };
}

/** Where the sun stands by day and the moon by night: share of the way across, and of the height, 0 … 1. */
export function discAt(time: Micros): { readonly x: number; readonly height: number; readonly moon: boolean } {
  const hour = time / HOUR;
  const moon = hour < 6 || hour >= 18;
  const along = moon ? ((hour + 6) % 24) / 12 : (hour - 6) / 12;
  return { x: along, height: Math.sin(Math.PI * along), moon };
}
