/** States looked at, at most, as beginnings of loops. */
const MOST_STARTS = 2 ** 16;

/**
 * The loops of a Johnson counter without a gate outside its cycle, simulated from its flip-flops: at each clock all stages
 * shift on, and what the last one held enters the first turned over. A state is the outputs that are on, counted from 0. No
 * more loops once these have `enough` states.
 */
export function johnsonLoopsOutside(stages: number, enough: number): number[][][] {
  const met = new Set<string>();
  const shifted = (state: string): string => (state.at(-1) === "1" ? "0" : "1") + state.slice(0, -1);
  const loopFrom = (start: string): string[] => {
    const states: string[] = [];
    for (let state = start; !met.has(state); state = shifted(state)) {
      met.add(state);
      states.push(state);
    }
    return states;
  };
  loopFrom("0".repeat(stages));
  const loops: number[][][] = [];
  let count = 0;
  for (let start = 1; start < Math.min(2 ** stages, MOST_STARTS) && count < enough; start++) {
    const digits = start.toString(2).split("").reverse().join("").padEnd(stages, "0");
    const states = loopFrom(digits);
    if (states.length === 0) continue;
    loops.push(states.map((state) => Array.from(state, (digit, output) => ({ digit, output })).flatMap(({ digit, output }) => (digit === "1" ? [output] : []))));
    count += states.length;
  }
  return loops;
}
