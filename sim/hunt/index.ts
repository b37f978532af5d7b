import fc from "fast-check";
import { promiseText } from "../promises/text.js";
import { stream } from "../random/streams.js";
import type { Promised, Scenario } from "../scenario/model.js";
import { arbitraryCandidate } from "./arbitrary.js";
import { Bench, corners, type Candidate } from "./candidate.js";
import { plainest } from "./plainest.js";
import { judgeOf } from "./predicate.js";
import { brokenInWords } from "./words.js";

export { arbitraryBuild } from "./arbitrary.js";
export { parseBuild } from "./replay.js";
export { keepsPromise } from "./predicate.js";

/** What a hunt found for one promise. */
export interface Quarry {
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
}

export interface HuntOptions {
  /** Builds to look at for each promise. */
  readonly tries: number;
  readonly progress?: ((done: number, total: number) => void) | undefined;
}

/**
 * Looks for part values inside tolerance that break each promise: nominal parts first, then parts at their limits, then
 * anywhere between, as fast-check draws and shrinks them. The same scenario gives the same answer.
 */
export function hunt(scenario: Scenario, { tries, progress }: HuntOptions): Quarry[] {
  const total = scenario.promises.length;
  return scenario.promises.map((promised, i) => {
    const quarry = huntOne(scenario, promised, i, tries);
    progress?.(i + 1, total);
    return quarry;
  });
}

function huntOne(scenario: Scenario, promised: Promised, place: number, tries: number): Quarry {
  const bench = new Bench(scenario);
  const judged = judgeOf(scenario, promised);
  const broken = (candidate: Candidate): boolean => !judged(bench.build(candidate)).kept;
  const facts = { promise: promised.kind, text: promiseText(promised) };

  let looked = 0;
  let firstBroken = 0;
  const examples = [bench.nominal, ...corners(bench.parts, Math.ceil(tries / 2))].slice(0, tries);
  const numRuns = bench.parts.length === 0 ? 1 : tries;
  const details = fc.check(
    fc.property(arbitraryCandidate(bench), (candidate) => {
      looked++;
      if (!broken(candidate)) return true;
      if (firstBroken === 0) firstBroken = looked;
      return false;
    }),
    { seed: stream(scenario.seed, 0, String(place), "hunt").int32(), numRuns, examples: examples.map((one): [Candidate] => [one]) },
  );
  if (!details.failed) {
    const sentence = `Promise kept: ${facts.text}. No build that breaks it was found in ${looked}.`;
    return { ...facts, broken: false, tries: looked, build: null, value: null, limit: null, sentence };
  }
  // where the predicate itself failed, as for a build that is too long to simulate, that is what to tell
  if (firstBroken === 0) throw details.errorInstance as Error;
  const build = bench.build(plainest(details.counterexample![0], broken));
  const verdict = judged(build);
  return {
    ...facts,
    broken: true,
    tries: firstBroken,
    build: Object.fromEntries(build.deviations),
    value: verdict.value,
    limit: verdict.limit,
    sentence: brokenInWords(scenario, promised, build, verdict),
  };
}
