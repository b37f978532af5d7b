import { shareOut, threadsFor, type Crew, type Hire } from "../crew/crew.js";
import { expectedPulses } from "../engine/limits.js";
import type { Scenario } from "../model/scenario.js";
import { chunksOf } from "../spread/chunk.js";
import { job, judged, promisesKept, type Judged, type Judging, type Trial } from "./judge.js";
import type { Knob } from "./knobs.js";
import { pickApart, type RoughSetting } from "./search.js";

/** Settings that are simulated over builds. */
const FINALISTS = 8;
/** How far they lie apart, in reading errors. */
const APART = 3;

/** What is tried out, and by whom. */
export interface Contest {
  readonly knobs: readonly Knob[];
  readonly rough: readonly RoughSetting[];
  /** Step times that stay, by index of board, seconds. */
  readonly keep: ReadonlyMap<number, number>;
  /** Return times of the score, seconds. */
  readonly times: readonly number[];
  readonly builds: number;
  readonly hire: Hire;
  readonly signal: AbortSignal | undefined;
  readonly progress: ((done: number, total: number) => void) | undefined;
}

/** What trying them out has found. */
export interface Outcome {
  /** The knobs as the file has them; null where every build stalls. */
  readonly present: Judged | null;
  /** The same but for the knobs that are kept at another step. */
  readonly asItIs: Judged | null;
  readonly finalists: readonly { readonly steps: readonly number[]; readonly judged: Judged }[];
  /** Builds that all of these were tried on; 0: the nominal one alone, since the work was stopped. */
  readonly builds: number;
  /** Whether it ended before everything was tried. */
  readonly stopped: boolean;
}

/** Boards whose knobs are turned, by index, with their step times. */
type Turned = ReadonlyMap<number, number>;

/**
 * Simulates the settings with nominal parts, then the best of them over builds. When the work is stopped, what all of its
 * builds have been simulated of is told; where that leaves nothing, what the nominal build showed.
 */
export async function tryOut(scenario: Scenario, { knobs, rough, keep, times, builds, hire, signal, progress }: Contest): Promise<Outcome> {
  const turned = (steps: readonly number[]): Turned => new Map([...keep, ...knobs.map(({ board }, k) => [board, steps[k]!] as const)]);
  const unturned: readonly Turned[] = [new Map(), ...(keep.size === 0 ? [] : [keep])];
  const judging: Judging = { scenario, times };
  const pulses = expectedPulses(scenario);
  const total = unturned.length + rough.length + (unturned.length + FINALISTS) * builds;
  const crew = hire(job, judging, { most: threadsFor(pulses * total), signal });
  let done = 0;
  const tried = (settings: readonly Turned[], chunks: readonly (readonly number[])[]): Promise<(Judged | null | undefined)[]> =>
    judgeAll(crew, judging, settings, chunks, (some) => progress?.((done += some), total));
  try {
    const nominal = await tried([...unturned, ...rough.map(({ steps }) => turned(steps))], [[0]]);
    const found = rough.flatMap(({ steps }, i) => {
      const result = nominal[unturned.length + i];
      return result == null ? [] : [{ steps, judged: result }];
    });
    found.sort((a, b) => promisesKept(b.judged) - promisesKept(a.judged) || a.judged.score - b.judged.score);
    const best = pickApart(found, ({ steps }) => steps, knobs, FINALISTS, APART);
    const chunks = chunksOf(builds, 1, pulses).map(({ first, count }) => Array.from({ length: count }, (_, i) => first + i));
    const drawn = await tried([...unturned, ...best.map(({ steps }) => turned(steps))], chunks);
    const stopped = drawn.includes(undefined);
    const whole = !stopped || (drawn[0] !== undefined && drawn.at(unturned.length) !== undefined);
    const results = whole ? drawn : [...nominal.slice(0, unturned.length), ...best.map((one) => one.judged)];
    const finalists = best.flatMap(({ steps }, i) => {
      const result = results[unturned.length + i];
      return result == null ? [] : [{ steps, judged: result }];
    });
    progress?.(total, total);
    return { present: results[0] ?? null, asItIs: results[unturned.length - 1] ?? null, finalists, builds: whole ? builds : 0, stopped };
  } finally {
    await crew.dismiss();
  }
}

/** What each setting does over the builds of all chunks; null where every build stalls, undefined where some were not simulated. */
async function judgeAll(
  crew: Crew<Trial, readonly Float64Array[]>,
  judging: Judging,
  settings: readonly Turned[],
  chunks: readonly (readonly number[])[],
  done: (builds: number) => void,
): Promise<(Judged | null | undefined)[]> {
  const numbers = chunks.flat();
  const rows = settings.map(() => new Array<readonly Float64Array[] | undefined>(chunks.length));
  const trials = settings.flatMap((steps) => chunks.map((builds): Trial => ({ steps, builds })));
  await shareOut(crew, trials, (some, i) => {
    rows[Math.floor(i / chunks.length)]![i % chunks.length] = some;
    done(some.length);
  });
  return rows.map((found) => (found.includes(undefined) ? undefined : judged(judging, numbers, found.flatMap((some) => some!))));
}
