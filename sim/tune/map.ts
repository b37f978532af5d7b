import { meanOf, multiply, type ClosedForm } from "./closed.js";

/** The score by the closed form over the two knobs that matter most, all others at their best. */
export interface ScoreMap {
  readonly x: Axis;
  /** Null where there is one knob alone. */
  readonly y: Axis | null;
  /** scores[j][i] at the i-th value of x and the j-th of y. */
  readonly scores: readonly (readonly number[])[];
}

/** One knob of the map. */
export interface Axis {
  readonly id: string;
  /** Step times, seconds. */
  readonly values: readonly number[];
  readonly best: number;
  readonly present: number;
}

/** Points along one side. */
const POINTS = 61;

/** The map around the best setting. */
export function scoreMap(closed: ClosedForm, best: readonly number[], present: readonly number[]): ScoreMap {
  const values = closed.knobs.map((knob) => thinned(knob.values));
  const effects = closed.knobs.map((_, k) => {
    const scores = values[k]!.map((value) => closed.score(best.map((step, i) => (i === k ? value : step))));
    return Math.max(...scores) - Math.min(...scores);
  });
  const order = effects.map((_, k) => k).sort((a, b) => effects[b]! - effects[a]! || a - b);
  const [x, y] = order.slice(0, 2).sort((a, b) => a - b) as [number, number | undefined];
  const axis = (k: number): Axis => ({ id: closed.knobs[k]!.id, values: values[k]!, best: best[k]!, present: present[k]! });
  const rest = closed.unset;
  closed.knobs.forEach((knob, k) => {
    if (k !== x && k !== y) multiply(rest, closed.partCurve(knob, best[k]!));
  });
  const along = values[x]!.map((value) => closed.partCurve(closed.knobs[x]!, value));
  const up = y === undefined ? [new Float64Array(closed.times.length).fill(1)] : values[y]!.map((value) => closed.partCurve(closed.knobs[y]!, value));
  const scores = up.map((one) =>
    along.map((other) => {
      const curve = rest.slice();
      multiply(curve, one);
      multiply(curve, other);
      return meanOf(curve);
    }),
  );
  return { x: axis(x), y: y === undefined ? null : axis(y), scores };
}

function thinned(values: readonly number[]): number[] {
  const every = Math.ceil(values.length / POINTS);
  return values.filter((_, i) => i % every === 0);
}
