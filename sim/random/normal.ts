import { int32Of, type BlockStream, type Stream } from "./streams.js";

/**
 * Standard normal deviates by the ziggurat method, 128 layers, after J. A. Doornik, "An improved ziggurat method
 * to generate normal random samples" (2005, from memory): the layer and the position in it come from different bits
 * of a draw, which avoids the correlation of the original. Positions in a layer have 25 bits.
 */
const LAYERS = 128;
const TAIL = 3.442619855899;
const AREA = 9.91256303526217e-3;

const edge = new Float64Array(LAYERS + 1);
const ratio = new Float64Array(LAYERS);
{
  let density = Math.exp(-0.5 * TAIL * TAIL);
  edge[0] = AREA / density;
  edge[1] = TAIL;
  for (let i = 2; i < LAYERS; i++) {
    edge[i] = Math.sqrt(-2 * Math.log(AREA / edge[i - 1]! + density));
    density = Math.exp(-0.5 * edge[i]! * edge[i]!);
  }
  edge[LAYERS] = 0;
  for (let i = 0; i < LAYERS; i++) ratio[i] = edge[i + 1]! / edge[i]!;
}

/** One standard normal deviate. */
export function normal(source: Stream): number {
  const bits = source.int32();
  const z = inBox(bits);
  // 98 of a hundred: kept short, so that it is compiled into where it is called
  return Number.isNaN(z) ? besides(source, bits) : z;
}

const layerOf = (bits: number): number => bits & (LAYERS - 1);
const positionOf = (bits: number): number => ((bits >> 7) + 0.5) * 2 ** -24;

/** The deviate where the box of a layer decides, else not a number. */
function inBox(bits: number): number {
  const layer = layerOf(bits);
  const u = positionOf(bits);
  return Math.abs(u) < ratio[layer]! ? u * edge[layer]! : NaN;
}

/** The deviate where it does not: from the tail, from under the curve, or from another draw. */
function besides(source: Stream, bits: number): number {
  const layer = layerOf(bits);
  const u = positionOf(bits);
  if (layer === 0) return tail(source, u < 0);
  const x = u * edge[layer]!;
  const below = Math.exp(-0.5 * (edge[layer]! * edge[layer]! - x * x));
  const above = Math.exp(-0.5 * (edge[layer + 1]! * edge[layer + 1]! - x * x));
  return above + source.uniform() * (below - above) < 1 ? x : normal(source);
}

/** A deviate beyond the last edge (Marsaglia's tail method). */
function tail(source: Stream, negative: boolean): number {
  for (;;) {
    // 1 − u lies in (0, 1], so the logarithm is finite
    const x = Math.log(1 - source.uniform()) / TAIL;
    const y = Math.log(1 - source.uniform());
    if (-2 * y >= x * x) return negative ? x - TAIL : TAIL - x;
  }
}

/** A standard normal deviate redrawn while it lies outside ±limit. */
export function truncatedNormal(source: Stream, limit: number): number {
  for (;;) {
    const z = normal(source);
    if (z >= -limit && z <= limit) return z;
  }
}

/** Fills a list with deviates: the same as {@link truncatedNormal} one after the other, and twice as fast. */
export function truncatedNormals(source: BlockStream, limit: number, into: Float64Array): void {
  const { block } = source;
  for (let place = 0; place < into.length; ) {
    let { at } = source;
    for (; at < block.length && place < into.length; at++) {
      const z = inBox(int32Of(block[at]!));
      if (!(z >= -limit && z <= limit)) break;
      into[place++] = z;
    }
    source.at = at;
    if (place < into.length) into[place++] = truncatedNormal(source, limit);
  }
}
