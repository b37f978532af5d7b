import type { Scenario } from "../model/scenario.js";
import { below, stream, type Stream } from "../random/streams.js";
import { HOUR } from "../units/time.js";
import type { BoardWiring } from "./wiring.js";

/** What happens to the counters of one run by chance. */
export class Chances {
  /** Of boards that go to any other step at a pulse; null for the others. */
  readonly shuffles: readonly (Stream | null)[];
  /** Stray pulses of each board; null where there are none. */
  readonly strays: readonly Stream[] | null;
  private readonly powerUps: readonly (Stream | null)[];
  private readonly strayMean: number;

  /** `wakes`: steps at which boards wake whatever else is said. */
  constructor(
    { seed, boards, supply }: Scenario,
    build: number,
    wiring: readonly BoardWiring[],
    private readonly wakes: ReadonlyMap<number, number>,
  ) {
    this.shuffles = wiring.map(({ sequence }, b) => (sequence.shuffled ? stream(seed, build, boards[b]!.id, "shuffle") : null));
    this.powerUps = boards.map(({ id, counter }) =>
      counter.powerUp === "anywhere" ? stream(seed, build, id, "power-up") : null,
    );
    const stray = supply.glitches > 0;
    this.strays = stray ? boards.map(({ id }) => stream(seed, build, id, "glitches")) : null;
    this.strayMean = stray ? HOUR / supply.glitches : Infinity;
  }

  /** The step, of so many, at which board b wakes up. */
  wakesAt(b: number, steps: number): number {
    const given = this.wakes.get(b);
    if (given !== undefined) return given;
    const anywhere = this.powerUps[b];
    return anywhere == null ? 0 : below(anywhere, steps);
  }

  /** Microseconds until the next stray pulse at board b. */
  untilStray(b: number): number {
    // 1 − u lies in (0, 1]: the logarithm is finite
    const wait = -Math.log(1 - this.strays![b]!.uniform()) * this.strayMean;
    return Math.max(1, Math.round(wait));
  }
}
