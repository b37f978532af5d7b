import type { SceneRecord } from "../engine/record.js";
import { eachState } from "../ratings/demand.js";

/**
 * Which steps the boards stood at together, and for how long: it does not depend on which house hangs on which output, so
 * that one simulation serves all arrangements.
 */
export interface JointTimeline {
  /** Joint positions in order of time: number of the position, and its length in microseconds. */
  readonly position: Int32Array;
  readonly length: Float64Array;
  /** 1 where a stretch begins an opening. */
  readonly opens: Uint8Array;
  /** Step of board b in joint position j at [j · boards + b]; −1 without power. */
  readonly steps: Int32Array;
  readonly boards: number;
  /** Share of the time that each joint position takes. */
  readonly share: Float64Array;
  /** Share of the time for which a board is at each step, by board. */
  readonly stepShare: readonly Float64Array[];
  /** How often each board went from one step to another. */
  readonly moves: readonly { readonly board: number; readonly from: number; readonly to: number; readonly count: number }[];
}

/** The joint positions of a traced record, up to the end of the opening in which their number passes `most`. */
export function jointTimeline(record: SceneRecord, stepsOf: readonly number[], most = Infinity): JointTimeline {
  const boards = stepsOf.length;
  const position: number[] = [];
  const length: number[] = [];
  const opens: number[] = [];
  const known = new Map<string, number>();
  const steps: number[] = [];
  const moves = new Map<string, { board: number; from: number; to: number; count: number }>();
  let before: readonly number[] | null = null;
  let opening = -1;
  let next = 0;
  let full = false;
  eachState(record, (now, start, end) => {
    while (next < record.openings.length && start >= record.openings[next]!.from) opening = next++;
    const begins = start === record.openings[opening]!.from;
    if (begins && position.length >= most) full = true;
    if (full) return;
    if (begins) before = null;
    else noteMoves(moves, before, now);
    const key = now.join();
    let joint = known.get(key);
    if (joint === undefined) {
      known.set(key, (joint = known.size));
      steps.push(...now);
    }
    if (!begins && position.at(-1) === joint) {
      length[length.length - 1] = length.at(-1)! + (end - start);
    } else {
      position.push(joint);
      length.push(end - start);
      opens.push(begins ? 1 : 0);
    }
    before = [...now];
  });
  const total = length.reduce((sum, one) => sum + one, 0);
  const share = new Float64Array(known.size);
  position.forEach((joint, i) => (share[joint] = share[joint]! + length[i]! / total));
  const stepShare = stepsOf.map((n) => new Float64Array(n));
  share.forEach((part, joint) => {
    for (let b = 0; b < boards; b++) {
      const step = steps[joint * boards + b]!;
      if (step >= 0) stepShare[b]![step] = stepShare[b]![step]! + part;
    }
  });
  return {
    position: Int32Array.from(position),
    length: Float64Array.from(length),
    opens: Uint8Array.from(opens),
    steps: Int32Array.from(steps),
    boards,
    share,
    stepShare,
    moves: [...moves.values()],
  };
}

function noteMoves(
  moves: Map<string, { board: number; from: number; to: number; count: number }>,
  before: readonly number[] | null,
  now: Int32Array,
): void {
  before?.forEach((from, board) => {
    const to = now[board]!;
    if (from === to || from < 0 || to < 0) return;
    const key = `${board},${from},${to}`;
    const move = moves.get(key);
    if (move === undefined) moves.set(key, { board, from, to, count: 1 });
    else move.count++;
  });
}
