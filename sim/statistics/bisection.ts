interface Ends {
  readonly last: number;
  readonly next: number;
}

/**
 * Where a condition that holds at `low` and not at `high` stops to hold, by halving: the ends of a stretch no wider than
 * `within` with the one place below and the other above. With 0, two numbers with none between.
 */
export function bisected(holds: (x: number) => boolean, low: number, high: number, within = 0): Ends {
  const halving = halved(low, high, within);
  let step = halving.next();
  while (step.done !== true) step = halving.next(holds(step.value));
  return step.value;
}

/** As {@link bisected}, for a condition whose answer has to be waited for. */
export async function bisectedLater(holds: (x: number) => Promise<boolean>, low: number, high: number, within = 0): Promise<Ends> {
  const halving = halved(low, high, within);
  let step = halving.next();
  while (step.done !== true) step = halving.next(await holds(step.value));
  return step.value;
}

/** Asks of one place after the other whether the condition holds there. */
function* halved(low: number, high: number, within: number): Generator<number, Ends, boolean> {
  let last = low;
  let next = high;
  while (next - last > within) {
    const middle = last + (next - last) / 2;
    // between neighbouring doubles the middle is one of them
    if (middle <= last || middle >= next) break;
    if (yield middle) last = middle;
    else next = middle;
  }
  return { last, next };
}
