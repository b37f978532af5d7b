/** Random displays, with what they show by the loop written by hand and by the engine: worked out once for all files that a worker runs. */
import type { SceneRecord } from "../../sim/engine/record.js";
import { simulate } from "../../sim/engine/simulate.js";
import { figures, type Figures } from "../../sim/figures/index.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { spellsOf, type Shown } from "../oracle/loop.js";
import { randomSpec } from "../oracle/random.js";
import { toYaml, type Spec } from "../oracle/spec.js";

interface Found {
  readonly spec: Spec;
  /** By hand. */
  readonly shown: Shown;
  /** By the engine, with what the figures say of it. */
  readonly record: SceneRecord;
  readonly found: Figures;
}

const byHand = new Map<number, Pick<Found, "spec" | "shown">>();
const all = new Map<number, Found>();

function shownBy(seed: number): Pick<Found, "spec" | "shown"> {
  let known = byHand.get(seed);
  if (known === undefined) {
    const spec = randomSpec(seed);
    byHand.set(seed, (known = { spec, shown: spellsOf(spec) }));
  }
  return known;
}

/** The random display of this seed. */
export function randomDisplay(seed: number): Found {
  let known = all.get(seed);
  if (known === undefined) {
    const drawn = shownBy(seed);
    const record = simulate(parseScenario(toYaml(drawn.spec), `random-${seed}.yaml`));
    all.set(seed, (known = { ...drawn, record, found: figures(record) }));
  }
  return known;
}

/** The seeds of the first displays with fewer spells than this: few enough to be counted by hand in many ways. */
export function calmSeeds(count: number, spells: number): number[] {
  const seeds: number[] = [];
  for (let seed = 1; seeds.length < count; seed++) {
    if (shownBy(seed).shown.openings.reduce((sum, opening) => sum + opening.spells.length, 0) < spells) seeds.push(seed);
  }
  return seeds;
}
