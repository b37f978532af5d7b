import fc from "fast-check";
import { alone, threadsFor, type Hire } from "../crew/crew.js";
import { expectedPulses, RunTooLongError } from "../engine/limits.js";
import { evidenceOf } from "../promises/evidence.js";
import { judge } from "../promises/judge.js";
import { kindOf } from "../promises/kinds/index.js";
import { promiseText } from "../promises/text.js";
import { stream } from "../random/streams.js";
import type { Promised, Scenario } from "../model/scenario.js";
import { firstBuilds } from "./aims.js";
import { arbitraryShifts } from "./arbitrary.js";
import { brokenInWords, meaningOfNone } from "./brokeninwords.js";
import { job } from "./look.js";
import { plainest } from "./plainest.js";
import { search } from "./search.js";
import { ShiftableParts, type Shifts } from "./shifts.js";

export { arbitraryBuild } from "./arbitrary.js";
export { parseBuild } from "./replay.js";
export { keepsPromise } from "./predicate.js";

/** To what share of its tolerance a part of the plainest build is found: a step time costs no simulation. */
const EXACT = 1e-9;
const FINE = 0.001;

/** What a hunt found for one promise. */
export interface HuntResult {
  readonly promise: Promised["kind"];
  readonly text: string;
  readonly broken: boolean;
  /** Builds looked at before the first that breaks the promise, that one included; all of them when none does. */
  readonly tries: number;
  /**
   * The plainest build that breaks it: for each part off nominal its deviation, −1 … +1 of its tolerance. Empty when
   * nominal parts break it; null when nothing does.
   */
  readonly build: Readonly<Record<string, number>> | null;
  /** The worst found in that build, and its limit; null where there is none. */
  readonly value: number | null;
  readonly limit: number | null;
  /** In a line. */
  readonly sentence: string;
  /** What it means that no build was found that breaks it, in words; null where one was. */
  readonly meaning: string | null;
}

/** How long is hunted, and by whom. */
export interface HuntOptions {
  /** Builds to look at for each promise. */
  readonly tries: number;
  /** Who simulates (default: the calling thread alone). The answer is the same whoever does. */
  readonly hire?: Hire | undefined;
  /** Ends the work early; what is found by then is told, though there may be plainer builds. */
  readonly signal?: AbortSignal | undefined;
  /** Called for every build that was looked at. */
  readonly progress?: ((done: number, total: number) => void) | undefined;
}

/**
 * Looks for part values inside tolerance that break each promise: nominal parts first, then parts with which boards come
 * back together, parts at their limits, then anywhere between, as fast-check draws and shrinks them. All promises are held against the same builds. The same
 * scenario gives the same answer.
 * Deviations are shares of the tolerance, −1 … +1; values are in the unit of the promise. Throws {@link RunTooLongError} for a build that
 * is too long to simulate.
 *
 * @example
 * ```ts
 * import { hunt, readScenario } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const [first] = await hunt(scenario, { tries: 20 });
 * console.log(first!.promise, first!.broken); // repeatOnReturn true
 * ```
 */
export async function hunt(scenario: Scenario, { tries, hire = alone, signal, progress }: HuntOptions): Promise<HuntResult[]> {
  const shiftable = new ShiftableParts(scenario);
  const seed = stream(scenario.seed, 0, "", "hunt").int32();
  const first = firstBuilds(scenario, shiftable, tries);
  const crew = hire(job, scenario, { most: threadsFor(tries * expectedPulses(scenario)), signal });
  try {
    const { looked, breaks } = await search(crew, scenario.promises.length, shiftable, { tries, first, seed, progress });
    return await Promise.all(
      scenario.promises.map(async (promised, p): Promise<HuntResult> => {
        const facts = { promise: promised.kind, text: promiseText(promised) };
        const found = breaks[p];
        if (found === undefined) {
          const meaning = meaningOfNone(shiftable.parts.length === 0 ? null : looked - first.length);
          const sentence = `Promise kept: ${facts.text}. No build that breaks it was found in ${looked}. ${meaning}`;
          return { ...facts, broken: false, tries: looked, build: null, value: null, limit: null, sentence, meaning };
        }
        // once the work is stopped nothing more counts as broken, and what has been found so far is as plain as it gets
        const broken = async (shifts: Shifts): Promise<boolean> => {
          const seen = (await crew.ask({ builds: [shifts], promises: [p] }))?.[0];
          if (seen !== undefined && "tooLong" in seen) throw new RunTooLongError(seen.tooLong);
          return seen !== undefined && seen.broken.length > 0;
        };
        const fine = kindOf(promised).needs === "steps" ? EXACT : FINE;
        const build = shiftable.build(await plainest(await shrunk(found.shifts, shiftable, broken, seed), broken, fine));
        const verdict = judge(promised, evidenceOf(scenario, [promised])(build));
        return {
          ...facts,
          broken: true,
          tries: found.after,
          build: Object.fromEntries(build.deviations),
          value: verdict.value,
          limit: verdict.limit,
          sentence: brokenInWords(scenario, promised, build, verdict),
          meaning: null,
        };
      }),
    );
  } finally {
    await crew.dismiss();
  }
}

/** What fast-check makes of shifts that break a promise, on its way to nominal parts. */
async function shrunk(shifts: Shifts, shiftable: ShiftableParts, broken: (shifts: Shifts) => Promise<boolean>, seed: number): Promise<Shifts> {
  const property = fc.asyncProperty(arbitraryShifts(shiftable), async (one) => !(await broken(one)));
  const { counterexample } = await fc.check(property, { seed, numRuns: 1, examples: [[shifts]] });
  return counterexample?.[0] ?? shifts;
}
