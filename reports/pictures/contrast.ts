/**
 * Relative luminance of a colour "#rrggbb", from 0 (black) to 1 (white): WCAG 2.2, "relative luminance".
 * Throws a RangeError for any other text.
 */
function luminance(colour: string): number {
  if (!/^#[0-9a-f]{6}$/i.test(colour)) throw new RangeError(`${colour} is not a colour such as #0072b2`);
  const [red, green, blue] = [1, 3, 5].map((at) => linear(parseInt(colour.slice(at, at + 2), 16) / 255));
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}

/** Contrast ratio of two colours, 1 to 21: WCAG 2.2, "contrast ratio". */
export function contrast(one: string, other: string): number {
  const [low, high] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (high! + 0.05) / (low! + 0.05);
}

function linear(channel: number): number {
  return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
}
