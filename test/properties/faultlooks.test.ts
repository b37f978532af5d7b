import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { contradiction, diagnose, seenBy, type NextLook, type Observation } from "../../sim/faults/index.js";
import { firstApart, longest } from "../../sim/faults/apart.js";
import { Light, TurnShelf, united } from "../../sim/faults/light.js";
import { pace } from "../../sim/faults/pace.js";
import { demoTables } from "./demotables.js";
import { often } from "../thorough.js";

const tables = demoTables.map(({ table }) => table);
const SETTINGS = { seed: 41, numRuns: often(51, 150) };

describe("what a list of turns says, against looking at every second", () => {
  const LENGTH = 60;
  const lit = fc.array(fc.boolean(), { minLength: LENGTH, maxLength: LENGTH });
  const turnsOf = (seconds: readonly boolean[]): number[] => seconds.flatMap((on, s) => (on !== (seconds[s - 1] ?? false) ? [s] : []));
  const kind = (seen: readonly boolean[]): string => (seen.every((on) => on) ? "lit" : seen.some((on) => on) ? "changing" : "dark");

  test("how a house stays, how often it comes on, and when it is lit", () => {
    fc.assert(
      fc.property(lit, fc.integer({ min: 1, max: LENGTH }), (seconds, until) => {
        const light = new Light(LENGTH, [turnsOf(seconds)]);
        const seen = seconds.slice(0, until);
        expect(light.stays(0, until)).toBe(kind(seen));
        expect(light.timesOn(0, until)).toBe(seen.filter((on, s) => on && seen[s - 1] !== true).length);
        expect(seconds.map((_, s) => light.litAt(0, s))).toEqual(seconds);
        expect(light.firstLit(0)).toBe(seconds.includes(true) ? seconds.indexOf(true) : Infinity);
        expect(light.firstDark(0)).toBe(seconds.includes(false) ? seconds.indexOf(false) : Infinity);
      }),
      SETTINGS,
    );
  });

  test("how a house stays while another is lit", () => {
    fc.assert(
      fc.property(lit, lit, fc.integer({ min: 1, max: LENGTH }), (house, other, until) => {
        const light = new Light(LENGTH, [turnsOf(house), turnsOf(other)]);
        const seen = house.filter((_, s) => s < until && other[s]);
        expect(light.staysWhile(0, 1, until)).toBe(seen.length === 0 ? "never" : kind(seen));
      }),
      SETTINGS,
    );
  });

  test("a house that several boards light", () => {
    fc.assert(
      fc.property(fc.array(lit, { maxLength: 4 }), (all) => {
        expect(united(all.map(turnsOf))).toEqual(turnsOf([...Array(LENGTH).keys()].map((s) => all.some((seconds) => seconds[s]))));
      }),
      SETTINGS,
    );
  });

  // stretches of up to a quarter of a minute, so that many last just ten seconds
  const stretches = fc.array(fc.integer({ min: 1, max: 15 }), { maxLength: 12 }).map((lengths) => lengths.flatMap((n, i) => new Array<boolean>(n).fill(i % 2 === 1)));
  const minute = stretches.map((seconds) => [...seconds, ...new Array<boolean>(LENGTH).fill(seconds.length % 2 === 0)].slice(0, LENGTH));

  test("when two are told apart: after ten seconds in which one is lit and the other dark", () => {
    const turnsAt = (seconds: readonly boolean[]): number[] => turnsOf(seconds).map((s) => s * 1e6);
    fc.assert(
      fc.property(minute, minute, (a, b) => {
        const all = (seconds: readonly boolean[], end: number, on: boolean): boolean => seconds.slice(end - 10, end).every((one) => one === on);
        const ends = Array.from({ length: LENGTH - 9 }, (_, s) => s + 10);
        const told = ends.find((end) => [true, false].some((on) => all(a, end, on) && all(b, end, !on)));
        expect(firstApart(turnsAt(a), turnsAt(b), LENGTH * 1e6)).toBe(told === undefined ? Infinity : told * 1e6);
      }),
      { seed: 42, numRuns: often(200, 1000) },
    );
  });

  test("the longest stretches of either kind", () => {
    const runs = (seconds: readonly boolean[], on: boolean): number =>
      Math.max(...seconds.map((_, s) => { let n = 0; while (seconds[s + n] === on) n++; return n; }));
    fc.assert(
      fc.property(minute, (seconds) => {
        expect(longest(turnsOf(seconds), LENGTH)).toEqual({ dark: runs(seconds, false), lit: runs(seconds, true) });
      }),
      SETTINGS,
    );
  });

  test("equal lists are kept once", () => {
    const shelf = new TurnShelf();
    const kept = shelf.keep([1, 2, 9]);
    expect(shelf.keep([1, 2, 9])).toBe(kept);
    // the same number of turns and the same weighted sum
    expect(shelf.keep([2, 3, 8])).not.toBe(kept);
    expect(shelf.keep([2, 3, 8])).toEqual([2, 3, 8]);
  });

  test("the pace is the median of the times between changes, with what is lit at switch-on no change", () => {
    const light = new Light(LENGTH, [[0, 5, 10, 15], [5, 10, 30]]);
    // changes at 5, 10, 15, 30: 5, 5 and 15 between them
    expect(pace(light, [0, 1], 40)).toBe(5);
    expect(pace(light, [1], 31)).toBe(20);
    expect(pace(light, [0, 1], 11)).toBeNull();
  });
});

test("what is true of a display never speaks against its own fault", () => {
  for (const table of tables) {
    const { scenario, groups, healthy } = table;
    const house = fc.nat({ max: scenario.houses.length - 1 });
    const look: fc.Arbitrary<NextLook> = fc
      .record({
        house,
        kind: fc.constantFrom("moment" as const, "times" as const, "throughout" as const, "pace" as const),
        until: fc.integer({ min: 1, max: Math.floor(healthy.length / 1e6) }).map((s) => s * 1e6),
        whileLit: fc.option(house),
        board: fc.nat({ max: scenario.boards.length - 1 }),
        certain: fc.constant(true),
      })
      .filter(({ house: one, whileLit }) => one !== whileLit);
    fc.assert(
      fc.property(fc.nat({ max: groups.length - 1 }), fc.array(look, { minLength: 1, maxLength: 6 }), (g, looks) => {
        const light = groups[g]!.lights[0]!;
        const seen = looks.map((one) => seenBy(table, one, light)).filter(({ kind }) => (kind as string | null) !== null);
        expect(contradiction(scenario, seen)).toBeUndefined();
        const { candidates } = diagnose(table, seen, table.slowestCycle);
        const own = candidates.find(({ faults }) => faults[0] === groups[g]!.faults[0])!;
        expect(own.contradictions).toBe(0);
        const all = candidates.map(({ contradictions }) => contradictions);
        expect(all).toEqual([...all].sort((a, b) => a - b));
      }),
      { seed: 41, numRuns: often(8, 20) },
    );
  }
});

describe("what cannot both be true is found, in either order", () => {
  const { scenario } = tables[1]!;
  const dark = (until: number, whileLit: number | null = null): Observation => ({ kind: "dark", house: 0, until: until * 1e6, whileLit });
  const lit = (until: number, whileLit: number | null = null): Observation => ({ kind: "lit", house: 0, until: until * 1e6, whileLit });
  const changing = (until: number, whileLit: number | null = null): Observation => ({ kind: "changing", house: 0, until: until * 1e6, whileLit });
  const times = (count: number, until: number): Observation => ({ kind: "times", house: 0, until: until * 1e6, times: count });
  const at = (kind: "dark-at" | "lit-at", moment: number): Observation => ({ kind, house: 0, at: moment * 1e6 });
  const board = (kind: "frozen" | "slow" | "fast" | "on-pace", until: number): Observation => ({ kind, board: 0, until: until * 1e6 });
  const otherDark: Observation = { kind: "dark", house: 1, until: 60e6, whileLit: null };

  test.each<Observation[]>([
    [dark(60), lit(30)],
    [dark(60), changing(60)],
    [lit(60), at("dark-at", 59)],
    [at("lit-at", 60), at("dark-at", 60)],
    [times(2, 60), times(1, 70)],
    [times(1, 60), times(2, 60)],
    [times(1, 60), dark(60)],
    [times(2, 60), lit(60)],
    [times(0, 60), lit(30)],
    [times(0, 60), at("lit-at", 30)],
    [times(0, 60), changing(50)],
    [board("frozen", 60), changing(50)],
    [board("frozen", 60), times(2, 60)],
    [board("frozen", 60), board("fast", 60)],
    [board("slow", 60), board("on-pace", 60)],
    [dark(60), lit(60, 1)],
    [dark(60, 1), lit(50, 1)],
    [dark(60, 1), otherDark],
    [board("frozen", 60), at("lit-at", 10), at("dark-at", 20)],
    [times(1, 60), at("lit-at", 10), at("dark-at", 20), at("lit-at", 30)],
  ])("%j", (...all) => {
    expect(new Set(contradiction(scenario, all))).toEqual(new Set(all));
    expect(new Set(contradiction(scenario, [...all].reverse()))).toEqual(new Set(all));
  });

  test.each<Observation[]>([
    [dark(60), changing(61)],
    [dark(60), { kind: "lit", house: 1, until: 60e6, whileLit: null }],
    [dark(60), at("lit-at", 60)],
    [board("frozen", 60), board("slow", 60)],
    [changing(60), dark(60, 1)],
    [lit(30, 1), changing(60, 1)],
    [times(2, 60), at("lit-at", 10), at("dark-at", 20), at("lit-at", 30)],
    [board("frozen", 60), times(1, 60)],
  ])("%j can", (...all) => {
    expect(contradiction(scenario, all)).toBeUndefined();
  });

  test("only what is needed for the contradiction is named", () => {
    expect(contradiction(scenario, [board("slow", 60), dark(60), otherDark, changing(90), lit(30)])).toEqual([dark(60), lit(30)]);
  });
});
