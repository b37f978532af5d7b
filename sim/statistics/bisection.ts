/**
 * Where a condition that holds at `low` and not at `high` stops to hold, by halving: the ends of a stretch no wider than
 * `within` with the one place below and the other above. With 0, two numbers with none between.
 */
export function bisected(holds: (x: number) => boolean, low: number, high: number, within = 0): { readonly last: number; readonly next: number } {
  let last = low;
  let next = high;
  while (next - last > within) {
    const middle = last + (next - last) / 2;
    // between neighbouring doubles the middle is one of them
    if (middle <= last || middle >= next) break;
    if (holds(middle)) last = middle;
    else next = middle;
  }
  return { last, next };
}
