/**
 * Stages of a Johnson counter whose two outputs the gate looks at that leads back into the cycle. A one enters the first
 * stage only while the last is empty and the first is full, or while both of these are empty; so a stray pattern empties
 * out and the counter fills again from nothing. Found by enumeration over all states, for the shortest way back
 * (TI SBOA550, appendix B, describes the lock-out). With one or two stages every state is in the cycle.
 */
export const JOHNSON_GATE: Readonly<Record<number, readonly [number, number]>> = {
  3: [2, 2],
  4: [2, 3],
  5: [3, 4],
  6: [4, 5],
  7: [5, 6],
  8: [5, 7],
  9: [6, 8],
  10: [7, 9],
  11: [8, 10],
  12: [7, 9],
};

/** The most stages for which such a gate is known here. */
export const JOHNSON_MOST = 12;

/** What enters the first stage of a Johnson counter with its gate; bit i of a state is stage i + 1. */
function johnsonFeedback(stages: number, state: number): 0 | 1 {
  const on = (stage: number): boolean => ((state >> (stage - 1)) & 1) === 1;
  if (on(stages)) return 0;
  const gate = JOHNSON_GATE[stages];
  return gate === undefined || on(1) || !(on(gate[0]) || on(gate[1])) ? 1 : 0;
}

/** The most steps until a Johnson counter with its gate is back in its cycle, from whatever state. */
export function johnsonWayBack(stages: number): number {
  const full = 2 ** stages - 1;
  const next = (state: number): number => ((state << 1) & full) | johnsonFeedback(stages, state);
  const cycle = new Set<number>();
  for (let state = 0; !cycle.has(state); state = next(state)) cycle.add(state);
  let most = 0;
  for (let start = 0; start <= full; start++) {
    let steps = 0;
    for (let state = start; !cycle.has(state); state = next(state)) steps++;
    most = Math.max(most, steps);
  }
  return most;
}
