/** A series of preferred values; the number says how many there are in a decade (IEC 60063). */
export type SeriesName = "E3" | "E6" | "E12" | "E24" | "E48" | "E96" | "E192";

/** Fixed before the rounding rule: eight of these differ from 10 · 10^(i/24). */
const E24 = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91];

/** round(100 · 10^(i/192)), except that the standard has 920 where the rule gives 919. */
const E192 = Array.from({ length: 192 }, (_, i) => (i === 185 ? 920 : Math.round(100 * 10 ** (i / 192))));

const SERIES: Readonly<Record<SeriesName, readonly number[]>> = {
  E3: everyNth(E24, 8),
  E6: everyNth(E24, 4),
  E12: everyNth(E24, 2),
  E24,
  E48: everyNth(E192, 4),
  E96: everyNth(E192, 2),
  E192,
};

/** The values of one decade as integers: two digits up to E24, three from E48 on. Ascending. */
export function seriesValues(name: SeriesName): readonly number[] {
  return SERIES[name];
}

/**
 * All preferred values v with from ≤ v ≤ to, ascending, each the double nearest to its decimal.
 * `from` must be positive and `to` finite, else a RangeError: there would be no end of values.
 */
export function preferredBetween(name: SeriesName, from: number, to: number): number[] {
  if (!(from > 0 && Number.isFinite(to))) throw new RangeError(`no finite list of values from ${from} to ${to}`);
  const mantissas = seriesValues(name);
  const digits = String(mantissas[0]).length - 1;
  const values: number[] = [];
  // One decade more at each end, since the logarithm is rounded.
  for (let decade = Math.floor(Math.log10(from)) - 1; decade <= Math.log10(to) + 1; decade++) {
    for (const mantissa of mantissas) {
      const value = Number(`${mantissa}e${decade - digits}`);
      if (value >= from && value <= to) values.push(value);
    }
  }
  return values;
}

/** The smallest preferred value that is not below `least`, which must be positive and finite. */
export function preferredAbove(name: SeriesName, least: number): number {
  return preferredBetween(name, least, 10 * least)[0]!;
}

function everyNth(values: readonly number[], n: number): readonly number[] {
  return values.filter((_, index) => index % n === 0);
}
