/**
 * Taps of maximal-length shift registers, stages numbered from 1, XOR into stage 1.
 * Source: Xilinx XAPP 052 (7 Jul 1996), table of taps, n = 3 … 16.
 */
export const MAXIMAL_TAPS: Readonly<Record<number, readonly number[]>> = {
  3: [3, 2],
  4: [4, 3],
  5: [5, 3],
  6: [6, 5],
  7: [7, 6],
  8: [8, 6, 5, 4],
  9: [9, 5],
  10: [10, 7],
  11: [11, 9],
  12: [12, 6, 4, 1],
  13: [13, 4, 3, 1],
  14: [14, 5, 3, 1],
  15: [15, 14],
  16: [16, 15, 13, 4],
};

/**
 * States of a Fibonacci shift register from all ones until it comes back there, or until it runs into a state it
 * has had (taps without the last stage make the walk enter a loop that never sees all ones again).
 * Bit i of a state is stage i + 1; the feedback, XOR of the tap bits, enters stage 1 and all stages shift up by one.
 */
export function lfsrStates(bits: number, taps: readonly number[]): number[] {
  return walk(bits, taps).states;
}

/** Steps after which the register repeats itself: without the last stage as a tap, fewer than it has states. */
export function lfsrLength(bits: number, taps: readonly number[]): number {
  const { states, again } = walk(bits, taps);
  return states.length - states.indexOf(again);
}

/** The states until one comes back, and the one that does. */
function walk(bits: number, taps: readonly number[]): { states: number[]; again: number } {
  const full = 2 ** bits - 1;
  const tapMask = taps.reduce((mask, tap) => mask | (1 << (tap - 1)), 0);
  const seen = new Uint8Array(full + 1);
  const states: number[] = [];
  let state = full;
  while (seen[state] === 0) {
    seen[state] = 1;
    states.push(state);
    state = ((state << 1) & full) | parity(state & tapMask);
  }
  return { states, again: state };
}

function parity(bits: number): number {
  let odd = bits;
  odd ^= odd >> 8;
  odd ^= odd >> 4;
  odd ^= odd >> 2;
  odd ^= odd >> 1;
  return odd & 1;
}
