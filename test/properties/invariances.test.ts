import fc from "fast-check";
import { expect, test } from "vitest";
import { simulate } from "../../sim/engine/simulate.js";
import { figures, type Figures } from "../../sim/figures/index.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { often } from "../thorough.js";
import { display, textOf, type Display } from "./displays.js";

/* What cannot matter does not: the figures of a display stay the same whatever its things are called and in what order they stand. */

const read = (text: string): Scenario => parseScenario(text, "random.yaml");
const figuresOf = (scenario: Scenario): Figures => figures(simulate(scenario));
const RUNS = often(10, 40);

/** Everything that is not about single houses or boards. */
function whole({ scenes, lit, repeat, visit, anyHour, observed }: Figures): unknown {
  return { scenes, lit, repeat, visit, anyHour, observed };
}

/** As `whole`, without the number of houses that are never lit: what a dark house does not change. */
function withoutCounts({ scenes, repeat, visit, anyHour }: Figures): unknown {
  return { scenes: { ...scenes, combinations: null }, repeat, visit, anyHour };
}

function check(property: (one: Display) => void, numRuns = RUNS): void {
  fc.assert(fc.property(display, property), { numRuns });
}

test("renaming houses and zones changes their names alone", () => {
  check((one) => {
    const text = textOf(one);
    const renamed = text.replace(/\bh(\d)\b/g, "house-$1").replace(/\bz(\d)\b/g, "quarter_$1");
    const [before, after] = [figuresOf(read(text)), figuresOf(read(renamed))];
    expect(whole(after)).toEqual(whole(before));
    expect(after.houses.map((house, h) => ({ ...house, id: `h${h}` }))).toEqual(before.houses);
    expect(after.zones.map(({ litShare }) => litShare)).toEqual(before.zones.map(({ litShare }) => litShare));
    expect(after.boards).toEqual(before.boards);
  });
});

test("the order of houses does not matter", () => {
  fc.assert(
    fc.property(display.chain((one) => fc.tuple(fc.constant(one), fc.shuffledSubarray(Array.from({ length: one.houses }, (_, h) => h), { minLength: one.houses }))), ([one, order]) => {
      const [before, after] = [figuresOf(read(textOf(one))), figuresOf(read(textOf(one, order)))];
      expect(whole(after)).toEqual(whole(before));
      const byId = (found: Figures): unknown => [...found.houses].sort((a, b) => a.id.localeCompare(b.id));
      expect(byId(after)).toEqual(byId(before));
    }),
    { numRuns: RUNS },
  );
});

test("a house split in two that are always lit together changes no scene", () => {
  check((one) => {
    const twin = one.houses;
    const boards = one.boards.map((board) => ({ ...board, outputs: board.outputs.map((houses) => (houses.includes(0) ? [...houses, twin] : houses)) }));
    const [before, after] = [figuresOf(read(textOf(one))), figuresOf(read(textOf({ ...one, houses: one.houses + 1, boards })))];
    expect(withoutCounts(after)).toEqual(withoutCounts(before));
    expect(after.houses.slice(0, twin)).toEqual(before.houses);
    expect(after.houses[twin]).toEqual({ ...before.houses[0], id: `h${twin}` });
  });
});

test("a board that lights nothing changes no scene and no other board", () => {
  check((one) => {
    const dark = { id: "dark", timer: "{ kind: quartz, step: 47 }", counter: "{ kind: ring, steps: 3 }", outputs: [] };
    const [before, after] = [figuresOf(read(textOf(one))), figuresOf(read(textOf({ ...one, boards: [...one.boards, dark] })))];
    expect(whole(after)).toEqual({ ...(whole(before) as object), scenes: after.scenes });
    expect({ ...after.scenes, combinations: 0 }).toEqual({ ...before.scenes, combinations: 0 });
    expect(after.houses).toEqual(before.houses);
    expect(after.boards.slice(0, -1)).toEqual(before.boards);
  });
});

test("a calendar shifted by whole weeks gives the same openings, one week later", () => {
  check((one) => {
    const scenario = read(textOf({ ...one, run: 2, swing: 0 }));
    const record = simulate(scenario, { trace: true });
    const longer = simulate({ ...scenario, opening: { ...scenario.opening, run: 9 } });
    // the first openings of a longer run are those of the shorter one
    expect(longer.openings.slice(0, 2).map(({ from, until }) => [from, until])).toEqual(record.openings.map(({ from, until }) => [from, until]));
    const week = 7 * 86_400_000_000;
    expect(longer.openings[7]!.from - longer.openings[0]!.from).toBe(week);
    const first = record.openings.at(-1)!.end;
    expect(Array.from(longer.spellStart.slice(0, first))).toEqual(Array.from(record.spellStart.slice(0, first)));
    // nine days and nights, of timers that run fifty times as fast behind a divider
  }, often(4, 25));
});
