import fc from "fast-check";
import { evidenceOf } from "../promises/evidence.js";
import { isKept, judge } from "../promises/judge.js";
import { kindOf } from "../promises/kinds/index.js";
import type { Evidence } from "../promises/kinds/kind.js";
import { promiseText } from "../promises/text.js";
import { stream } from "../random/streams.js";
import type { Promised, Scenario } from "../model/scenario.js";
import type { Build } from "../timers/build.js";
import { arbitraryShifts } from "./arbitrary.js";
import { ShiftableParts, corners, type Shifts } from "./shifts.js";
import { plainest } from "./plainest.js";
import { brokenInWords } from "./brokeninwords.js";

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
}

/** How long is hunted. */
export interface HuntOptions {
  /** Builds to look at for each promise. */
  readonly tries: number;
  /** Called for every build that was looked at. */
  readonly progress?: ((done: number, total: number) => void) | undefined;
}

/**
 * Looks for part values inside tolerance that break each promise: nominal parts first, then parts at their limits, then
 * anywhere between, as fast-check draws and shrinks them. All promises are held against the same builds. The same
 * scenario gives the same answer.
 * Deviations are shares of the tolerance, −1 … +1; values are in the unit of the promise. Throws {@link RunTooLongError} for a build that
 * is too long to simulate.
 *
 * @example
 * ```ts
 * import { hunt, readScenario } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const [first] = hunt(scenario, { tries: 20 });
 * console.log(first!.promise, first!.broken); // repeatOnReturn true
 * ```
 */
export function hunt(scenario: Scenario, { tries, progress }: HuntOptions): HuntResult[] {
  const { promises } = scenario;
  const shiftable = new ShiftableParts(scenario);
  const evidence = evidenceOf(scenario, promises);
  const seed = stream(scenario.seed, 0, "", "hunt").int32();
  const { looked, breaks } = search(promises, shiftable, evidence, { tries, seed, progress });
  return promises.map((promised, i): HuntResult => {
    const facts = { promise: promised.kind, text: promiseText(promised) };
    const found = breaks[i];
    if (found === undefined) {
      const sentence = `Promise kept: ${facts.text}. No build that breaks it was found in ${looked}.`;
      return { ...facts, broken: false, tries: looked, build: null, value: null, limit: null, sentence };
    }
    const broken = (shifts: Shifts): boolean => !isKept(promised, evidence(shiftable.build(shifts)));
    const fine = kindOf(promised).needs === "steps" ? EXACT : FINE;
    const build = shiftable.build(plainest(shrunk(found.shifts, shiftable, broken, seed), broken, fine));
    const verdict = judge(promised, evidence(build));
    return {
      ...facts,
      broken: true,
      tries: found.after,
      build: Object.fromEntries(build.deviations),
      value: verdict.value,
      limit: verdict.limit,
      sentence: brokenInWords(scenario, promised, build, verdict),
    };
  });
}

interface FirstBreak {
  readonly shifts: Shifts;
  /** Number of the build, from 1. */
  readonly after: number;
}

/** Goes through the builds until every promise is broken or all have been looked at. */
function search(
  promises: readonly Promised[],
  shiftable: ShiftableParts,
  evidence: (build: Build) => Evidence,
  { tries, seed, progress }: HuntOptions & { seed: number },
): { looked: number; breaks: readonly (FirstBreak | undefined)[] } {
  const breaks = new Array<FirstBreak | undefined>(promises.length);
  let looked = 0;
  const intact = (shifts: Shifts): boolean => {
    looked++;
    const seen = evidence(shiftable.build(shifts));
    promises.forEach((promised, i) => {
      if (breaks[i] === undefined && !isKept(promised, seen)) breaks[i] = { shifts, after: looked };
    });
    progress?.(looked, tries);
    return breaks.includes(undefined);
  };
  const examples = [shiftable.nominal, ...corners(shiftable.parts, Math.ceil(tries / 2))].slice(0, tries);
  const details = fc.check(fc.property(arbitraryShifts(shiftable), intact), {
    seed,
    // without a loose part there is one build only
    numRuns: shiftable.parts.length === 0 ? 1 : tries,
    examples: examples.map((one): [Shifts] => [one]),
    endOnFailure: true,
  });
  // where the promises could not be judged, as for a build that is too long to simulate, that is what to tell
  if (details.failed && breaks.includes(undefined)) throw details.errorInstance as Error;
  return { looked, breaks };
}

/** What fast-check makes of shifts that break a promise, on its way to nominal parts. */
function shrunk(shifts: Shifts, shiftable: ShiftableParts, broken: (shifts: Shifts) => boolean, seed: number): Shifts {
  const property = fc.property(arbitraryShifts(shiftable), (one) => !broken(one));
  return fc.check(property, { seed, numRuns: 1, examples: [[shifts]] }).counterexample?.[0] ?? shifts;
}
