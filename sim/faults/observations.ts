import type { Scenario } from "../model/scenario.js";
import type { Light, Stay } from "./light.js";
import { paceOff } from "./pace.js";
import type { Micros } from "../units/time.js";

/** Something that was seen on the real display. Houses and boards by index; times in microseconds after switch-on. */
export type Observation =
  /**
   * The house stayed dark, stayed lit, or was seen both ways, from switch-on until then: all the time, or at those times
   * at which another house was lit.
   */
  | { readonly kind: "dark" | "lit" | "changing"; readonly house: number; readonly until: Micros; readonly whileLit: number | null }
  /** The house came on so many times from switch-on until then; lit at switch-on counts as once. */
  | { readonly kind: "times"; readonly house: number; readonly until: Micros; readonly times: number }
  /** The house was dark, or lit, at that moment. */
  | { readonly kind: "dark-at" | "lit-at"; readonly house: number; readonly at: Micros }
  /** No house of the board changed from switch-on until then; or they changed clearly less, more, or just as often as they should. */
  | { readonly kind: "frozen" | "slow" | "fast" | "on-pace"; readonly board: number; readonly until: Micros };

/** What a display shows when it is in order, beside which the pace of a faulty one is seen. */
export interface Sound {
  readonly scenario: Scenario;
  readonly healthy: Light;
}

interface LitHouses {
  readonly all: readonly number[];
  readonly own: readonly number[];
}

/** Worked out once for a scenario: it is asked for with every light that is compared. */
const litHouses = new WeakMap<Scenario, readonly LitHouses[]>();

/** The houses that a board lights, and of these the ones that no other board lights too. */
export function housesOf(scenario: Scenario, board: number): LitHouses {
  const known = litHouses.get(scenario);
  if (known !== undefined) return known[board]!;
  const lights = scenario.boards.map(({ outputs }) => new Set(outputs.flatMap((loads) => loads.map(({ house }) => house))));
  const found = lights.map((lit, b) => {
    const all = [...lit].sort((x, y) => x - y);
    return { all, own: all.filter((house) => lights.every((houses, other) => other === b || !houses.has(house))) };
  });
  litHouses.set(scenario, found);
  return found[board]!;
}

/**
 * The houses by which one sees whether a board runs: those that no other board lights; where there are none, all that
 * it lights.
 */
export function tellingHouses(scenario: Scenario, board: number): readonly number[] {
  const { all, own } = housesOf(scenario, board);
  return own.length > 0 ? own : all;
}

/** How a house stays at the times that a look is about. */
export function stayOf(light: Light, { house, until, whileLit }: { readonly house: number; readonly until: Micros; readonly whileLit: number | null }): Stay | "never" {
  return whileLit === null ? light.stays(house, until) : light.staysWhile(house, whileLit, until);
}

/** What one sees of the pace of a board from switch-on until then; null: too little to tell. */
export function paceSeen({ scenario, healthy }: Sound, board: number, until: Micros, light: Light): "slow" | "fast" | "on-pace" | null {
  return paceOff(light, healthy, tellingHouses(scenario, board), until);
}

/** Whether one would see this on a display that shows `light`. */
export function agrees({ scenario, healthy }: Sound, light: Light, seen: Observation): boolean {
  switch (seen.kind) {
    case "dark":
    case "lit":
    case "changing":
      return stayOf(light, seen) === seen.kind;
    case "times":
      return light.timesOn(seen.house, seen.until) === seen.times;
    case "dark-at":
      return !light.litAt(seen.house, seen.at);
    case "lit-at":
      return light.litAt(seen.house, seen.at);
    case "frozen":
      return tellingHouses(scenario, seen.board).every((house) => light.stays(house, seen.until) !== "changing");
    case "slow":
    case "fast":
    case "on-pace":
      return paceSeen({ scenario, healthy }, seen.board, seen.until, light) === seen.kind;
  }
}
