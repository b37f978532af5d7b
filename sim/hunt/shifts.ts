import { looseParts, type LoosePart } from "../builds/parts.js";
import type { Scenario } from "../model/scenario.js";
import type { Build } from "../timers/build.js";

/**
 * A build as the hunt moves it: for each loose part how far it has gone from nominal (0) towards one of its limits
 * (−1, +1). For a leakage, which is typical at nominal, that is the way from typical to none or to its limit.
 */
export type Shifts = readonly number[];

/** The parts that a hunt can move, and the build that their shifts stand for. */
export class ShiftableParts {
  readonly parts: readonly LoosePart[];

  constructor(scenario: Scenario) {
    this.parts = looseParts(scenario);
  }

  get nominal(): Shifts {
    return this.parts.map(() => 0);
  }

  /** The build with the nominal random streams, so that only its parts make a difference. */
  build(shifts: Shifts): Build {
    const deviations = new Map<string, number>();
    shifts.forEach((moved, i) => {
      if (moved !== 0) deviations.set(this.parts[i]!.key, this.deviation(i, moved));
    });
    return { number: 0, deviations };
  }

  /** The shifts for a build; parts that cannot be moved are left out. */
  shiftsOf({ deviations }: Build): Shifts {
    return this.parts.map(({ key, nominal }) => {
      const deviation = deviations.get(key);
      if (deviation === undefined || deviation === nominal) return 0;
      return deviation < nominal ? (deviation - nominal) / (1 + nominal) : (deviation - nominal) / (1 - nominal);
    });
  }

  private deviation(i: number, moved: number): number {
    const { nominal } = this.parts[i]!;
    return moved < 0 ? nominal + moved * (1 + nominal) : nominal + moved * (1 - nominal);
  }
}

/** All parts at the limits, in the order in which they are most likely to show something; at most `most` of them. */
export function corners(parts: readonly LoosePart[], most: number): Shifts[] {
  const all = (sign: number): Shifts => parts.map(() => sign);
  const found: Shifts[] = [all(1), all(-1)];
  // one part alone, then one board against the others
  parts.forEach((_, i) => {
    for (const sign of [1, -1]) found.push(parts.map((_part, j) => (i === j ? sign : 0)));
  });
  for (const board of new Set(parts.map((part) => part.board))) {
    for (const sign of [1, -1]) found.push(parts.map((part) => (part.board === board ? sign : -sign)));
  }
  if (2 ** parts.length <= most - found.length) {
    for (let bits = 0; bits < 2 ** parts.length; bits++) found.push(parts.map((_, i) => ((bits >> i) & 1 ? 1 : -1)));
  }
  const known = new Set<string>();
  return found
    .filter((corner) => {
      const key = corner.join();
      return known.has(key) ? false : known.add(key);
    })
    .slice(0, most);
}
