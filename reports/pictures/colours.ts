import { contrast } from "./contrast.js";

/** Text and outlines on paper. */
export const INK = "#1b1f24";
/** Axes, units and other text of second rank. */
export const QUIET = "#505a64";
export const PAPER = "#ffffff";
/** Lines that only guide the eye; nothing is lost without them. */
export const GUIDE = "#d5dbe1";

/** A dark house, and the evening behind it. */
export const NIGHT = "#22303f";
/** A lit window (Okabe and Ito's yellow); on paper it needs an outline in INK. */
export const LIT = "#f0e442";
/** Outline of a dark house on NIGHT. */
export const DUSK = "#93a4b5";

/** The night that the display lies in: sky from the zenith down, and hills from the farthest to the nearest. */
export const NIGHT_SKY = ["#0b1526", "#2a405c"] as const;
export const NIGHT_HILLS = ["#22344a", "#1c2b3e", "#172334", "#121c2b", "#0d1522"] as const;
/** Names in it, and what stands under them. */
export const MOONLIGHT = "#eef2f7";
export const STARLIGHT = "#b9c6d6";

/** Bars of measured shares (Okabe and Ito's blue). */
export const BAR = "#0072b2";

/** A board's steps in turn: Tol's high-contrast blue, and a pale tint that is bounded by it. */
export const STEP_DARK = "#004488";
export const STEP_PALE = "#dce9f5";

/** From dark to light: P. Tol's YlOrBr scheme, which the colour-blind read as dark to light too. */
const SHADES = ["#662506", "#993404", "#cc4c02", "#ec7014", "#fb9a29", "#fec44f", "#fee391", "#fff7bc"];

/** So many shades from dark to light, as far apart as the scheme allows; more than it has repeat none less than once. */
export function shades(count: number): string[] {
  const last = SHADES.length - 1;
  return Array.from({ length: count }, (_, i) => SHADES[count === 1 ? last : Math.round((i * last) / (count - 1))]!);
}

/** Text on a shade. Not INK and PAPER, which change places on a dark screen, where shades stay as they are. */
const [ON_PALE, ON_DEEP] = ["#0f1317", "#fefefe"];

/** A dark or a light text, whichever is easier to read on this colour. */
export function textOn(background: string): string {
  return contrast(ON_PALE, background) >= contrast(ON_DEEP, background) ? ON_PALE : ON_DEEP;
}
