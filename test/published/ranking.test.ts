/** In which order settings of knobs are told; every expected order follows from the rules in words, on settings made by hand. */
import { describe, expect, test } from "vitest";
import { bestFirst, calmerThanFirst } from "../../sim/tune/ranking.js";
import type { TunedSetting } from "../../sim/tune/setting.js";

/** The step time is the setting's name; of each promise the builds of 100 that keep it: one, kept by all, unless told otherwise. */
interface Told {
  readonly name: number;
  readonly score?: number;
  readonly worstEcho?: number;
  readonly unreachable?: number;
  readonly kept?: number | readonly number[];
}

function setting({ name, score = 0.1, worstEcho = 0.3, unreachable = 0, kept = 100 }: Told): TunedSetting {
  const promises = [kept].flat().map((n) => ({ promise: "step", text: "", kept: n, builds: 100, share: n / 100, low: 0, high: 1 }));
  const boards = { quay: { stepSeconds: name, dial: 0 } };
  return { boards, readingCost: 0, score, meanReturn: score, stayRepeat: 0, worstEcho, chance: 0.1, unreachable, stalled: 0, promises };
}

const names = (settings: readonly TunedSetting[]): number[] => settings.map(({ boards }) => boards["quay"]!.stepSeconds);
const order = (...told: Told[]): number[] => names(bestFirst(told.map(setting), null));

describe("settings are told best first", () => {
  test("those that keep their promises, then those that knobs reach, then the lowest score", () => {
    expect(order({ name: 1, score: 0.3 }, { name: 2, score: 0.1 }, { name: 3, score: 0.2 })).toEqual([2, 3, 1]);
    expect(order({ name: 1, score: 0.1, unreachable: 2 }, { name: 2, score: 0.3 }, { name: 3, score: 0.2, unreachable: 1 })).toEqual([2, 3, 1]);
    expect(order({ name: 1, kept: 60 }, { name: 2, kept: 90, unreachable: 5, score: 0.9 })).toEqual([2, 1]);
  });

  test("of scores within half a percent the lower worst echo, unless fewer builds reach that one or keep its promises", () => {
    expect(order({ name: 1, score: 0.1 }, { name: 2, score: 0.1004, worstEcho: 0.2 })).toEqual([2, 1]);
    expect(order({ name: 1, score: 0.1 }, { name: 2, score: 0.1006, worstEcho: 0.2 })).toEqual([1, 2]);
    expect(order({ name: 1, score: 0.1 }, { name: 2, score: 0.1, worstEcho: 0.2, unreachable: 1 })).toEqual([1, 2]);
    expect(order({ name: 1, score: 0.1 }, { name: 2, score: 0.1, worstEcho: 0.2, kept: 80 })).toEqual([1, 2]);
  });

  test("promises count in tenths of all builds; every build is more than nearly every", () => {
    expect(order({ name: 1, kept: 96, score: 0.2 }, { name: 2, kept: 98, score: 0.3 })).toEqual([1, 2]);
    expect(order({ name: 1, kept: 99, score: 0.2 }, { name: 2, kept: 100, score: 0.3 })).toEqual([2, 1]);
  });

  test("what is worse than the knobs as they are comes behind them: in promises kept, else in reach or in score", () => {
    const behind = (told: Omit<Told, "name">): boolean =>
      names(bestFirst([setting({ name: 1, ...told })], setting({ name: 2, score: 0.2, unreachable: 3, kept: 97 })))[0] === 2;
    expect(behind({ score: 0.1, unreachable: 3, kept: 97 })).toBe(false);
    expect(behind({ score: 0.1, unreachable: 4, kept: 97 })).toBe(true);
    expect(behind({ score: 0.2005, worstEcho: 0.2, unreachable: 3, kept: 97 })).toBe(true);
    expect(behind({ score: 0.1, unreachable: 3, kept: 96 })).toBe(true);
    expect(behind({ score: 0.1, unreachable: 2, kept: 97 })).toBe(false);
    // as many in all, more in tenths: 97 and 97 of 100 count 20, 94 and 100 count 19
    const present = setting({ name: 2, unreachable: 3, kept: [94, 100] });
    const ahead = (told: Omit<Told, "name">): boolean => names(bestFirst([setting({ name: 1, kept: [97, 97], ...told })], present))[0] === 1;
    expect(ahead({ unreachable: 3 })).toBe(true);
    expect(ahead({ unreachable: 4 })).toBe(false);
    expect(ahead({ unreachable: 3, score: 0.11 })).toBe(false);
  });
});

describe("a calmer setting is named beside the first", () => {
  const calmer = (first: Omit<Told, "name">, other: Omit<Told, "name">): number | null =>
    calmerThanFirst([setting({ name: 1, ...first }), setting({ name: 2, ...other })]);

  test("where its worst echo is at most seven tenths, for at most a tenth more score", () => {
    expect(calmer({ worstEcho: 0.4 }, { worstEcho: 0.27, score: 0.1099 })).toBe(1);
    expect(calmer({ worstEcho: 0.4 }, { worstEcho: 0.27, score: 0.1101 })).toBeNull();
    expect(calmer({ worstEcho: 0.4 }, { worstEcho: 0.29, score: 0.1 })).toBeNull();
  });

  test("which keeps the promises as well, and only where the first one's echo is twice what chance makes", () => {
    expect(calmer({ worstEcho: 0.4 }, { worstEcho: 0.1, kept: 80 })).toBeNull();
    expect(calmer({ worstEcho: 0.2 }, { worstEcho: 0.1 })).toBe(1);
    expect(calmer({ worstEcho: 0.19 }, { worstEcho: 0.1 })).toBeNull();
    expect(calmerThanFirst([])).toBeNull();
  });
});
