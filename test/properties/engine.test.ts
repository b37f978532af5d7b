import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { eachSpell, type SceneRecord } from "../../sim/engine/record.js";
import { simulate, simulator } from "../../sim/engine/simulate.js";
import { figures } from "../../sim/figures/index.js";
import { totals } from "../../sim/figures/totals.js";
import { parseScenario } from "../../sim/scenario/read.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { NOMINAL } from "../../sim/timers/build.js";
import { outputsOn } from "../oracle/counters.js";
import type { Counter as OracleCounter } from "../oracle/spec.js";
import { boardOf, display, textOf, type Display } from "./displays.js";
import { often } from "../thorough.js";

const traced = (text: string): SceneRecord => simulate(parseScenario(text, "display.yaml"), { trace: true });

/** Every move of one board: [time, step], −1 for power off. */
function movesOf(record: SceneRecord, id: string): number[][] {
  const board = record.boards.findIndex((other) => other.id === id);
  const { time, board: who, step } = record.trace!;
  return Array.from(time, (t, i) => (who[i] === board ? [t, step[i]!] : [])).filter((move) => move.length > 0);
}

interface Spell {
  readonly from: number;
  readonly until: number;
  readonly lit: readonly number[];
}

function spellsOf(record: SceneRecord): Spell[] {
  const spells: Spell[] = [];
  eachSpell(record, (scene, from, until) => spells.push({ from, until, lit: record.scenes.lit(scene) }));
  return spells;
}

/** A record as text, every number of it. */
function bytes(record: SceneRecord): string {
  const { openings, spellStart, spellScene, scenes, boards, trace } = record;
  const lists = [spellStart, spellScene, trace!.time, trace!.board, trace!.step].map((list) => [...list]);
  return JSON.stringify({ openings, lists, scenes, boards });
}

test("the flat loop and the general one, which a trace calls for, record the same to the last bit", () => {
  let flat = 0;
  fc.assert(
    fc.property(display, (drawn) => {
      // half of the displays drawn would go through the general loop anyway
      const boards = drawn.boards.filter(({ timer, counter }) => !timer.includes("carry") && !counter.includes("shuffle"));
      fc.pre(boards.length > 0);
      flat++;
      const scenario = parseScenario(textOf({ ...drawn, glitches: 0, boards }), "display.yaml");
      const { trace, ...general } = simulate(scenario, { trace: true });
      expect(trace).not.toBeNull();
      expect(simulate(scenario)).toEqual({ ...general, trace: null });
    }),
    { seed: 4, numRuns: often(24, 100) },
  );
  expect(flat).toBeGreaterThan(often(12, 50));
});

test("twenty boards, more than are looked at one by one, record the same in both loops", () => {
  const boards = Array.from({ length: 20 }, (_, b) => ({
    id: `b${b}`,
    timer: `{ kind: quartz, step: ${60 + (b % 7) * 1.5}, jitter: ${b % 3} % }`,
    counter: "{ kind: ring, steps: 5 }",
    outputs: [[b % 6], [], [(b + 1) % 6, b % 6]],
  }));
  const text = textOf({ seed: "tide", from: 600, minutes: 240, overnight: false, run: 2, swing: 0, glitches: 0, houses: 6, boards });
  const scenario = parseScenario(text, "twenty.yaml");
  const { trace, ...general } = simulate(scenario, { trace: true });
  expect(trace!.time.length).toBeGreaterThan(1000);
  expect(simulate(scenario)).toEqual({ ...general, trace: null });
});

describe("boards run by themselves", () => {
  test("an added board changes no pulse of any other", () => {
    fc.assert(
      fc.property(display, boardOf("extra"), fc.nat(), (base, extra, place) => {
        const boards = [...base.boards];
        boards.splice(place % (boards.length + 1), 0, extra);
        const before = traced(textOf(base));
        const after = traced(textOf({ ...base, boards }));
        expect(after.boards.length).toBe(before.boards.length + 1);
        for (const { id, pulses } of before.boards) {
          expect(movesOf(after, id)).toEqual(movesOf(before, id));
          expect(after.boards.find((board) => board.id === id)!.pulses).toBe(pulses);
        }
      }),
      { seed: 1, numRuns: often(10, 40) },
    );
  });

  test("and neither does the order of the boards in the file", () => {
    fc.assert(
      fc.property(display, (base) => {
        const before = traced(textOf(base));
        const after = traced(textOf({ ...base, boards: [...base.boards].reverse() }));
        for (const { id } of before.boards) expect(movesOf(after, id)).toEqual(movesOf(before, id));
        expect(spellsOf(after)).toEqual(spellsOf(before));
      }),
      { seed: 2, numRuns: often(8, 30) },
    );
  });

  test("the random displays use every kind of randomness", () => {
    const texts = fc.sample(display, { seed: 1, numRuns: 40 }).map((drawn) => textOf(drawn));
    for (const word of ["jitter", "powerUp: anywhere", "kind: shuffle", "glitches: 30", "kind: carry", "divide", "drift", "swing: 5", "overnight: on"]) {
      expect(texts.filter((text) => text.includes(word)).length, word).toBeGreaterThanOrEqual(5);
    }
  });

  test("another seed or another build gives other draws, and only where something is drawn", () => {
    const text = (seed: string, jitter: string): string => `
lampdrift: 1
title: Draws
seed: ${seed}
opening: { from: "10:00", until: "12:00", run: 1 }
houses: { a: {}, b: {} }
boards:
  q: { timer: { kind: quartz, step: 10 s${jitter} }, counter: { kind: ring, steps: 2 }, outputs: { 0: a, 1: b } }
`;
    const build = { number: 1, deviations: new Map() };
    const run = (seed: string, jitter: string, number = 0): string =>
      bytes(simulate(parseScenario(text(seed, jitter), "draws.yaml"), { trace: true, ...(number === 1 ? { build } : {}) }));
    expect(run("one", ", jitter: 1 %")).not.toBe(run("two", ", jitter: 1 %"));
    expect(run("one", ", jitter: 1 %")).not.toBe(run("one", ", jitter: 1 %", 1));
    expect(run("one", "")).toBe(run("two", ""));
    expect(run("one", "")).toBe(run("one", "", 1));
  });
});

describe("records", () => {
  test("show the scenes that the moves of the counters make, and no others", () => {
    fc.assert(
      fc.property(display, (drawn) => {
        const record = traced(textOf(drawn));
        expect(spellsOf(record)).toEqual(replayed(record));
      }),
      { seed: 3, numRuns: often(14, 60) },
    );
  });

  test("of one file are the same to the last number, whatever was simulated before", () => {
    fc.assert(
      fc.property(display, (drawn) => {
        const text = textOf(drawn);
        const first = bytes(traced(text));
        const run = simulator(parseScenario(text, "display.yaml"));
        run({ build: { number: 3, deviations: new Map() }, trace: true });
        run({ trace: true });
        expect(bytes(run({ build: NOMINAL, trace: true }))).toBe(first);
        expect(bytes(traced(text))).toBe(first);
      }),
      { seed: 4, numRuns: often(8, 40) },
    );
  });

  test("give away no microsecond of the open time", () => {
    fc.assert(
      fc.property(display, (drawn) => {
        const record = traced(textOf(drawn));
        const { open, sceneTime, spells } = totals(record);
        expect(open).toBe(drawn.run * drawn.minutes * 60e6);
        expect(sceneTime.reduce((sum, time) => sum + time, 0)).toBe(open);
        expect(spells.reduce((sum, spell) => sum + spell, 0)).toBe(open);
        expect(Math.min(...spells)).toBeGreaterThan(0);
        const { lit } = figures(record);
        expect(Math.abs(lit.shares.reduce((sum, share) => sum + share, 0) - 1)).toBeLessThan(1e-12);
      }),
      { seed: 5, numRuns: often(10, 40) },
    );
  });

  test("give the same figures when the houses stand in another order", () => {
    const order = fc.shuffledSubarray([0, 1, 2, 3, 4, 5], { minLength: 6 });
    fc.assert(
      fc.property(display, order, (drawn, houses) => {
        const one = figures(traced(textOf(drawn)));
        const other = figures(traced(textOf(drawn, houses)));
        const byId = <T extends { id: string } | { zone: string }>(list: readonly T[]): T[] =>
          [...list].sort((a, b) => JSON.stringify(a).localeCompare(JSON.stringify(b)));
        expect({ ...other, houses: byId(other.houses), zones: byId(other.zones) }).toEqual({
          ...one,
          houses: byId(one.houses),
          zones: byId(one.zones),
        });
      }),
      { seed: 6, numRuns: often(6, 25) },
    );
  });
});

/** The spells by going through the trace: after all moves of one instant, look which outputs are on. */
function replayed(record: SceneRecord): Spell[] {
  const { scenario, openings } = record;
  const { time, board, step } = record.trace!;
  const at = scenario.boards.map(() => -1);
  let next = 0;
  const moveUpTo = (now: number): void => {
    for (; next < time.length && time[next]! <= now; next++) at[board[next]!] = step[next]!;
  };
  return openings.flatMap(({ from, until }) => {
    const spells: Spell[] = [];
    for (let now = from; now < until; now = time[next] ?? until) {
      moveUpTo(now);
      const lit = litAt(scenario, at);
      const last = spells.at(-1);
      if (last?.lit.join() === lit.join()) continue;
      if (last !== undefined) spells[spells.length - 1] = { ...last, until: now };
      spells.push({ from: now, until, lit });
    }
    return spells;
  });
}

/** Houses lit when the boards stand at these steps, ascending. */
function litAt({ boards }: Scenario, steps: readonly number[]): number[] {
  const houses = new Set<number>();
  boards.forEach(({ counter, outputs }, b) => {
    if (steps[b]! < 0) return;
    const on = counter.kind === "shuffle" ? counter.steps[steps[b]!]! : outputsOn(counter as OracleCounter, steps[b]!);
    for (const output of on) for (const { house } of outputs[output] ?? []) houses.add(house);
  });
  return [...houses].sort((a, b) => a - b);
}

describe("time", () => {
  /** Without drift, jitter and temperature every length of a run can be told beforehand. */
  const plain = fc.record({
    steps: fc.array(fc.record({ seconds: fc.integer({ min: 5, max: 300 }), positions: fc.integer({ min: 2, max: 7 }) }), { minLength: 1, maxLength: 4 }),
    from: fc.integer({ min: 0, max: 600 }),
    minutes: fc.integer({ min: 2, max: 250 }),
    run: fc.integer({ min: 1, max: 4 }),
    overnight: fc.boolean(),
  });
  type Plain = typeof plain extends fc.Arbitrary<infer T> ? T : never;

  function plainText({ steps, from, minutes, run, overnight }: Plain, scale = 1): string {
    const display: Display = {
      seed: "plain",
      from,
      minutes: minutes * scale,
      overnight,
      run,
      swing: 0,
      glitches: 0,
      houses: steps.length * 2,
      // each board lights one house at its first step and another at its last
      boards: steps.map(({ seconds, positions }, b) => ({
        id: `b${b}`,
        timer: `{ kind: quartz, step: ${seconds * scale} }`,
        counter: `{ kind: ring, steps: ${positions} }`,
        outputs: Array.from({ length: positions }, (_, i) => (i === 0 ? [2 * b] : i === positions - 1 ? [2 * b + 1] : [])),
      })),
    };
    return textOf(display);
  }

  test("passes by the clock: every spell and pulse by division, with power overnight and without", () => {
    fc.assert(
      fc.property(plain, (drawn) => {
        const record = traced(plainText(drawn));
        const begin = drawn.from * 60e6;
        const length = drawn.minutes * 60e6;
        const expected = Array.from({ length: drawn.run }, (_, day) => {
          const from = day * 86_400e6 + begin;
          const origin = drawn.overnight ? begin : from;
          return byDivision(drawn.steps, origin, from, from + length);
        }).flat();
        expect(spellsOf(record)).toEqual(expected);
        const powered = drawn.overnight ? (drawn.run - 1) * 86_400e6 + length : length;
        // a pulse at the very end does not happen
        const pulses = drawn.steps.map(({ seconds }) => Math.ceil(powered / (seconds * 1e6)) - 1);
        expect(record.boards.map((board) => board.pulses)).toEqual(pulses.map((n) => (drawn.overnight ? n : n * drawn.run)));
      }),
      { seed: 7, numRuns: often(10, 40) },
    );
  });

  test("scaled by a whole number scales the figures, and nothing else", () => {
    fc.assert(
      fc.property(plain, fc.constantFrom(2, 3), (drawn, scale) => {
        const base = { ...drawn, overnight: false };
        const { boards, scenes, houses, ...one } = figures(simulate(parseScenario(plainText(base), "one.yaml")));
        const scaled = figures(simulate(parseScenario(plainText(base, scale), "scaled.yaml")));
        expect(scaled.observed.seconds).toBe(one.observed.seconds * scale);
        expect(scaled.boards).toEqual(
          boards.map((board) => ({
            ...board,
            stepSeconds: board.stepSeconds * scale,
            firstStepSeconds: board.firstStepSeconds * scale,
            cycleSeconds: board.cycleSeconds * scale,
          })),
        );
        expect(scaled.scenes.distinct).toBe(scenes.distinct);
        expect(scaled.scenes.changes).toBe(scenes.changes);
        expect(scaled.scenes.sameAtRandom).toBeCloseTo(scenes.sameAtRandom, 12);
        expect(scaled.scenes.changesPerHour).toBeCloseTo(scenes.changesPerHour / scale, 9);
        for (const name of ["shortestSeconds", "medianSeconds", "longestSeconds"] as const) {
          expect(scaled.scenes[name]).toBeCloseTo(scenes[name] * scale, 9);
        }
        scaled.houses.forEach((house, h) => {
          expect(house.litShare).toBeCloseTo(houses[h]!.litShare, 12);
          expect(house.lightings).toBe(houses[h]!.lightings);
          expect(house.longestDarkSeconds).toBeCloseTo(houses[h]!.longestDarkSeconds * scale, 9);
          expect(house.longestLitSeconds).toBeCloseTo(houses[h]!.longestLitSeconds * scale, 9);
        });
        scaled.lit.shares.forEach((share, n) => expect(share).toBeCloseTo(one.lit.shares[n]!, 12));
      }),
      { seed: 8, numRuns: often(10, 40) },
    );
  });

  test("does not tell two equal boards in step from one", () => {
    fc.assert(
      fc.property(boardOf("one"), fc.integer({ min: 1, max: 240 }), fc.boolean(), (board, minutes, overnight) => {
        // what is drawn at random differs between two boards
        fc.pre(!/jitter|anywhere|shuffle/.test(board.timer + board.counter));
        const base: Display = { seed: "twins", from: 540, minutes, overnight, run: 3, swing: 5, glitches: 0, houses: 6, boards: [board] };
        const alone = traced(textOf(base));
        const twins = traced(textOf({ ...base, boards: [board, { ...board, id: "other" }] }));
        expect(spellsOf(twins)).toEqual(spellsOf(alone));
        expect(twins.boards[1]!.pulses).toBe(alone.boards[0]!.pulses);
      }),
      { seed: 9, numRuns: often(16, 60) },
    );
  });

  test("makes one new scene of pulses in one instant", () => {
    // eight boards step together once a minute, a ninth once in two minutes: 60 instants, the one at closing left out
    const boards = Array.from({ length: 9 }, (_, b) => ({
      id: `b${b}`,
      timer: `{ kind: quartz, step: ${b === 8 ? 120 : 60} }`,
      counter: `{ kind: ring, steps: ${2 + b} }`,
      outputs: [[b], []],
    }));
    const record = traced(textOf({ seed: "s", from: 600, minutes: 60, overnight: false, run: 1, swing: 0, glitches: 0, houses: 9, boards }));
    const from = record.openings[0]!.from;
    expect([...record.spellStart].map((start) => start - from)).toEqual(Array.from({ length: 60 }, (_, i) => i * 60e6));
    expect(record.boards.map((board) => board.pulses)).toEqual([59, 59, 59, 59, 59, 59, 59, 59, 29]);
  });

  test("lets a pulse at closing time fall away, and ends a spell there", () => {
    const board = { id: "b", timer: "{ kind: quartz, step: 60 }", counter: "{ kind: ring, steps: 2 }", outputs: [[0], [1]] };
    const base: Display = { seed: "s", from: 600, minutes: 3, overnight: false, run: 2, swing: 0, glitches: 0, houses: 2, boards: [board] };
    const spells = (overnight: boolean): number[][] =>
      spellsOf(traced(textOf({ ...base, overnight }))).map(({ from, lit }) => [from - 600 * 60e6, ...lit]);
    const day = 86_400e6;
    // off: each opening starts at the first step; on: 1440 pulses a day leave the board where it was
    const expected = [[0, 0], [60e6, 1], [120e6, 0], [day, 0], [day + 60e6, 1], [day + 120e6, 0]];
    expect(spells(false)).toEqual(expected);
    expect(spells(true)).toEqual(expected);
    expect(traced(textOf(base)).boards[0]!.pulses).toBe(4);
    expect(traced(textOf({ ...base, overnight: true })).boards[0]!.pulses).toBe(1442);
  });
});

/** Spells of rings that light one house at their first step and one at their last, by dividing the time. */
function byDivision(
  rings: readonly { seconds: number; positions: number }[],
  origin: number,
  from: number,
  until: number,
): Spell[] {
  const instants = new Set([from]);
  for (const { seconds } of rings) {
    const step = seconds * 1e6;
    for (let t = origin + Math.ceil((from - origin) / step) * step; t < until; t += step) instants.add(t);
  }
  const spells: Spell[] = [];
  for (const t of [...instants].sort((a, b) => a - b)) {
    const lit = rings.flatMap(({ seconds, positions }, b) => {
      const position = Math.floor((t - origin) / (seconds * 1e6)) % positions;
      return position === 0 ? [2 * b] : position === positions - 1 ? [2 * b + 1] : [];
    });
    const last = spells.at(-1);
    if (last?.lit.join() === lit.join()) continue;
    if (last !== undefined) spells[spells.length - 1] = { ...last, until: t };
    spells.push({ from: t, until, lit });
  }
  return spells;
}

describe("many boards", () => {
  /** Boards that light nothing: each doubles the number of pattern combinations, since it may be dark or not. */
  const silent = (count: number): Display["boards"] =>
    Array.from({ length: count }, (_, i) => ({
      id: `silent${i}`,
      timer: `{ kind: quartz, step: ${300 + i} }`,
      counter: "{ kind: ring, steps: 2 }",
      outputs: [[], []],
    }));

  test("show the same spells whichever way their scenes are looked up", () => {
    // a plain table up to 2^22 combinations, then maps, then maps of maps beyond 2^53
    fc.assert(
      fc.property(display, fc.constantFrom(22, 40, 60, 120), (base, count) => {
        fc.pre(base.minutes * base.run < 400);
        const small = traced(textOf(base));
        const large = traced(textOf({ ...base, boards: [...base.boards, ...silent(count)] }));
        expect(spellsOf(large)).toEqual(spellsOf(small));
      }),
      { seed: 10, numRuns: often(8, 30) },
    );
  });

  test.each([12, 20, 60])("%i boards of one house each show what dividing the time by each step says", (count) => {
    // 3^12 combinations fit a table, 3^20 do not, 3^60 do not fit a double
    const seconds = Array.from({ length: count }, (_, b) => 31 + 7 * b);
    const boards = seconds.map((step, b) => ({
      id: `b${b}`,
      timer: `{ kind: quartz, step: ${step} }`,
      counter: "{ kind: ring, steps: 2 }",
      outputs: [[2 * b], [2 * b + 1]],
    }));
    const drawn: Display = { seed: "s", from: 0, minutes: 120, overnight: false, run: 1, swing: 0, glitches: 0, houses: 2 * count, boards };
    expect(spellsOf(traced(textOf(drawn)))).toEqual(byDivision(seconds.map((s) => ({ seconds: s, positions: 2 })), 0, 0, 7200e6));
  });
});
