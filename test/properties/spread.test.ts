import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { figures } from "../../sim/figures/index.js";
import { simulate } from "../../sim/engine/simulate.js";
import { readScenario } from "../../sim/scenario/file.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { chunksOf } from "../../sim/spread/chunk.js";
import { buildOf, spread } from "../../sim/spread/index.js";
import { demo } from "../endtoend/command.js";
import { often } from "../thorough.js";

const board = (id: string, tolerance: string): string =>
  `  ${id}: { timer: { kind: astable, chip: cmos, ra: 100k ${tolerance}, rb: 1M ${tolerance}, c: { value: 100 uF, tolerance: ${tolerance}, leakage: 0.1 uA } }, counter: { kind: ring, steps: 4 }, outputs: { 0: a, 1: b, 2: [a, b] } }`;

const text = (boards: readonly string[], promises = ""): string => `lampdrift: 1
title: Spread
opening: { from: "10:00", until: "12:00", run: 2 }
houses: { a: , b: }
boards:
${boards.join("\n")}
${promises}`;

describe("builds", () => {
  // with one loose part the step time only ever moves further from nominal as its tolerance grows
  test("a wider tolerance never raises the yield of a step promise, on the same draws", async () => {
    const nominal = Math.LN2 * 2.1e6 * 1e-4;
    const loose = (tolerance: number): string =>
      `  one: { timer: { kind: astable, ra: { value: 100k, tolerance: 0 }, rb: { value: 1M, tolerance: 0 }, c: { value: 100 uF, tolerance: ±${tolerance} %, leakage: 0 } }, counter: { kind: ring, steps: 4 }, outputs: { 0: a, 1: b } }`;
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 0, max: 15 }), fc.integer({ min: 0, max: 15 }), fc.integer({ min: 2, max: 30 }), async (a, b, allowed) => {
        const yieldAt = async (percent: number): Promise<number> => {
          const bounds = `promises: [ step: { from: ${nominal * (1 - allowed / 100)}, to: ${nominal * (1 + allowed / 100)} } ]`;
          const scenario = parseScenario(text([loose(percent)], bounds), "spread.yaml");
          return (await spread(scenario, { builds: 40, workers: 1 })).promises[0]!.kept;
        };
        expect(await yieldAt(Math.max(a, b))).toBeLessThanOrEqual(await yieldAt(Math.min(a, b)));
      }),
      { seed: 61, numRuns: often(7, 20) },
    );
  });

  test("with no tolerance anywhere every build shows what the nominal one shows", async () => {
    const quiet = text(["  one: { timer: { kind: quartz, step: 97.5 s }, counter: { kind: ring, steps: 4 }, outputs: { 0: a, 1: b, 2: [a, b] } }"]);
    const scenario = parseScenario(quiet, "quiet.yaml");
    const nominal = figures(simulate(scenario));
    expect(JSON.stringify(figures(simulate(scenario, { build: buildOf(scenario, 7) })))).toBe(JSON.stringify(nominal));
    const { figures: found } = await spread(scenario, { builds: 5, workers: 1 });
    expect(found["scenes.effective"]).toMatchObject({ min: nominal.scenes.effective, max: nominal.scenes.effective });
    expect(found["visit.repeatShare"]).toMatchObject({ min: nominal.visit.repeatShare, max: nominal.visit.repeatShare });
  });

  test("another board, or another tolerance, leaves the drawn parts of a board as they are", () => {
    const alone = parseScenario(text([board("one", "±20 %")]), "alone.yaml");
    const joined = parseScenario(text([board("zero", "±1 %"), board("one", "±20 %")]), "joined.yaml");
    const narrow = parseScenario(text([board("one", "±5 %")]), "narrow.yaml");
    for (const number of [1, 2, 99]) {
      const parts = buildOf(alone, number).deviations;
      expect(parts.size).toBe(4);
      for (const [part, deviation] of parts) {
        expect(buildOf(joined, number).deviations.get(part)).toBe(deviation);
        expect(buildOf(narrow, number).deviations.get(part)).toBeCloseTo(deviation, 12);
      }
    }
  });

  test("deviations stay inside −1 … +1 and differ from build to build", () => {
    const scenario = parseScenario(text([board("one", "±20 %")]), "one.yaml");
    const seen = new Set<number>();
    for (let number = 1; number <= 200; number++) {
      for (const deviation of buildOf(scenario, number).deviations.values()) {
        expect(Math.abs(deviation)).toBeLessThanOrEqual(1);
        seen.add(deviation);
      }
    }
    expect(seen.size).toBeGreaterThan(790);
  });
});

describe("gathering", () => {
  test("one worker and two give the same bytes", async () => {
    const scenario = await readScenario(demo("twin-boards"));
    const [one, two] = await Promise.all([1, 2].map((workers) => spread(scenario, { builds: 70, workers, curves: true })));
    expect(JSON.stringify(two)).toBe(JSON.stringify(one));
  });

  test("the figures of a drawn build are those of a run with its parts", async () => {
    const scenario = parseScenario(text([board("one", "±20 %"), board("two", "±10 %")]), "drawn.yaml");
    const run = figures(simulate(scenario, { build: buildOf(scenario, 1) }));
    const { figures: found } = await spread(scenario, { builds: 1, workers: 1 });
    const darkest = Math.max(...run.houses.map(({ longestDarkSeconds }) => longestDarkSeconds));
    expect(Object.keys(found).length).toBeGreaterThan(10);
    for (const [name, quantiles] of Object.entries(found)) {
      // a name is the figure's place: repeat.returns[0].share
      const place = name.split(/[.[\]]+/).filter((key) => key !== "");
      const wanted = place.reduce<unknown>((value, key) => (value as Record<string, unknown>)[key], run);
      expect(quantiles === null ? null : quantiles.p50, name).toBe(name === "houses.longestDarkSeconds" ? darkest : wanted);
    }
  });

  test.each([1, 2])("a build that cannot be simulated is told by %i workers as an error", async (workers) => {
    const wild = `  one: { timer: { kind: measured, step: 20 s, reading: 40 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: a, 1: b } }`;
    const scenario = parseScenario(text([wild]), "wild.yaml");
    await expect(spread(scenario, { builds: 40, workers })).rejects.toThrow(/^build \d+ gives board "one" a step that is not above zero/);
  });

  test("work in threads can be ended early, too", async () => {
    const scenario = await readScenario(demo("twin-boards"));
    const controller = new AbortController();
    const found = await spread(scenario, { builds: 1000, workers: 2, signal: controller.signal, progress: () => controller.abort() });
    expect(found.partial).toBe(true);
    expect(found.builds).toBeGreaterThan(0);
    expect(found.builds).toBeLessThan(1000);
  });

  test("what was finished when the work is ended early comes out as partial", async () => {
    const scenario = await readScenario(demo("twin-boards"));
    const controller = new AbortController();
    const found = await spread(scenario, { builds: 500, workers: 1, signal: controller.signal, progress: () => controller.abort() });
    expect(found.partial).toBe(true);
    expect(found.builds).toBeGreaterThan(0);
    expect(found.builds).toBeLessThan(500);
    const whole = await spread(scenario, { builds: found.builds, workers: 1 });
    expect({ ...found, partial: false }).toEqual(whole);
  });

  test("stalled builds keep no promise and are left out of the figures", async () => {
    // the leakage alone decides: beyond (V/3)/(RA + RB) = 3.636 µA the timer stalls
    const leaky = `  one: { timer: { kind: astable, ra: { value: 100k, tolerance: 0 }, rb: { value: 1M, tolerance: 0 }, c: { value: 10 uF, tolerance: 0, leakage: { typical: 0.1 uA, limit: 5 uA } } }, counter: { kind: ring, steps: 4 }, outputs: { 0: a, 1: b } }`;
    const steady = "  two: { timer: { kind: quartz, step: 50 s }, counter: { kind: ring, steps: 4 }, outputs: { 0: b } }";
    const scenario = parseScenario(text([leaky, steady], "promises: [ litHouses: { from: 0 } ]"), "leaky.yaml");
    const { stalled, builds, promises, boards } = await spread(scenario, { builds: 400, workers: 1 });
    const share = 1 - 4 / 1.1 / 5;
    expect(Math.abs(stalled / builds - share)).toBeLessThan(4.9 * Math.sqrt((share * (1 - share)) / builds));
    expect(promises[0]!.kept).toBe(builds - stalled);
    // whatever board it is that stalls
    expect(boards.map(({ stepsDrawn }) => stepsDrawn.length)).toEqual([builds - stalled, builds - stalled]);
  });
});

test("chunks hold every build once, in order, whatever their number, and end in time", () => {
  const wrong: string[] = [];
  for (let count = 1; count <= 60; count++) {
    for (const workers of [1, 2, 3, 8]) {
      for (const pulses of [1, 300_000, 2_000_000]) {
        const chunks = chunksOf(count, workers, pulses);
        const all = chunks.flatMap(({ first, count: some }) => Array.from({ length: some }, (_, i) => first + i));
        const each = all.length === count && all.every((build, i) => build === i + 1);
        // a million pulses at most, unless one build alone has more
        if (!each || chunks.some(({ count: some }) => some > 5 || (some > 1 && some * pulses > 1_000_000))) wrong.push(`${count} ${workers} ${pulses}`);
      }
    }
  }
  expect(wrong).toEqual([]);
});

describe("what is counted", () => {
  const exact = "ra: { value: 100k, tolerance: 0 }, rb: { value: 1M, tolerance: 0 }, c: { value: 100 uF, tolerance: ±20 %, leakage: 0 }";
  const astable = (more = ""): string =>
    `  one: { timer: { kind: astable, ${exact}${more} }, counter: { kind: ring, steps: 4 }, outputs: { 0: a, 1: b } }`;

  test("builds that keep all promises: those that break neither of two which cannot break together", async () => {
    const nominal = Math.LN2 * 2.1e6 * 1e-4;
    const bounds = `promises: [ step: { from: ${0.9 * nominal} }, step: { to: ${1.1 * nominal} } ]`;
    const { promises, allKept } = await spread(parseScenario(text([astable()], bounds), "both.yaml"), { builds: 300, workers: 1 });
    const [slow, fast] = promises;
    expect(slow!.kept).toBeLessThan(300);
    expect(fast!.kept).toBeLessThan(300);
    expect(allKept!.kept).toBe(slow!.kept + fast!.kept - 300);
    expect(allKept!.share).toBe(allKept!.kept / 300);
  });

  test("builds whose knob does not reach: those whose capacitor is off by more than the track makes up for", async () => {
    // RA + 2·RB from 2.1 MΩ to 2.3 MΩ, set for 2.2 MΩ·C0: it reaches while 2.2/2.3 ≤ C/C0 ≤ 2.2/2.1
    const knob = ", trimmer: { value: 100k ±0 %, in: rb }, setTo: 152.492379723 s, reading: 0 s";
    const n = 600;
    const found = await spread(parseScenario(text([astable(knob)]), "knob.yaml"), { builds: n, workers: 1 });
    const share = 1 - (2.2 / 2.1 - 2.2 / 2.3) / 0.4;
    expect(found.stalled).toBe(0);
    expect(Math.abs(found.unreachable / n - share)).toBeLessThan(4.9 * Math.sqrt((share * (1 - share)) / n));
    // at the end of its track the step is off; the extremes are those of the largest and the smallest capacitor
    const { min, max, p50 } = found.boards[0]!.step!;
    expect(p50).toBeCloseTo(152.492379723, 6);
    expect(min).toBeGreaterThanOrEqual(Math.LN2 * 2.3e6 * 0.8e-4);
    expect(max).toBeLessThanOrEqual(Math.LN2 * 2.1e6 * 1.2e-4);
    expect(max - min).toBeGreaterThan(0.9 * Math.LN2 * (2.1 * 1.2 - 2.3 * 0.8) * 100);
  });

  test("stalled builds show nothing in figures, steps or curve", async () => {
    const leaky = `  one: { timer: { kind: astable, ra: { value: 100k, tolerance: 0 }, rb: { value: 1M, tolerance: 0 }, c: { value: 10 uF, tolerance: 0, leakage: { typical: 0.1 uA, limit: 9 uA } } }, counter: { kind: ring, steps: 2 }, outputs: { 0: a, 1: b } }`;
    const found = await spread(parseScenario(text([leaky]), "leaky.yaml"), { builds: 60, workers: 1, curves: true });
    expect(found.stalled).toBeGreaterThan(20);
    expect(found.stalled).toBeLessThan(50);
    // one house or the other is always lit in a build that runs
    expect(found.figures["lit.mean"]).toMatchObject({ min: 1, max: 1 });
    expect(found.figures["scenes.distinct"]).toMatchObject({ min: 2, max: 2 });
    expect(found.boards[0]!.step!.min).toBeGreaterThanOrEqual(Math.LN2 * 21);
    // two scenes in turn: whenever one moves on by half a cycle, the other is shown; both curves stay between 0 and 1
    for (const { min, max } of found.curve!) expect(min >= 0 && max <= 1).toBe(true);
    expect(Math.max(...found.curve!.map(({ min }) => min))).toBeGreaterThan(0);
    expect(found.allKept).toBeNull();
  });
});
