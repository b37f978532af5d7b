import { describe, expect, test } from "vitest";
import { threads } from "../../sim/crew/threads.js";
import { hunt, keepsPromise } from "../../sim/hunt/index.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { tune } from "../../sim/tune/index.js";

/* What a search has found by the moment that it is stopped, and that threads find what one finds. */
const scenario = parseScenario(
  `lampdrift: 1
title: Stopped
opening: { from: "10:00", until: "12:00", run: 1 }
houses: { a: , b: , c: , d: }
boards:
  quay:
    timer: { kind: astable, ra: 47k 5 %, rb: 100k 5 %, c: 100u 20 %, trimmer: { value: 1M 20 %, in: rb }, setTo: 60 s, reading: 1 s }
    counter: { kind: ring, steps: 4 }
    outputs: { 0: a, 1: b, 2: [a, b] }
  hill:
    timer: { kind: astable, ra: 47k 5 %, rb: 100k 5 %, c: 100u 20 %, trimmer: { value: 1M 20 %, in: rb }, setTo: 63 s, reading: 1 s }
    counter: { kind: ring, steps: 3 }
    outputs: { 0: c, 1: d }
promises: [ step: { from: 40 s, to: 90 s }, darkSpell: { atMost: 10 min }, sceneLasts: { to: 60.5 s } ]
`,
  "stopped.yaml",
);

/** Stops the work when so much of it is done. */
function stoppedAt(share: number): { signal: AbortSignal; progress: (done: number, total: number) => void } {
  const controller = new AbortController();
  return {
    signal: controller.signal,
    progress: (done, total) => {
      if (done >= share * total) controller.abort();
    },
  };
}

describe("tune", async () => {
  const options = { keep: new Map<number, number>(), builds: 20 };
  const whole = await tune(scenario, options);

  test("finds the same with threads", async () => {
    expect(whole.stopped).toBe(false);
    expect(await tune(scenario, { ...options, hire: threads(2) })).toEqual(whole);
  });

  test("tells what nominal parts showed while no build has been drawn", async () => {
    const { stopped, builds, settings, present } = await tune(scenario, { ...options, ...stoppedAt(0.1) });
    expect({ stopped, builds }).toEqual({ stopped: true, builds: 0 });
    expect(settings.length).toBeGreaterThan(0);
    for (const { promises } of [present!, ...settings]) for (const promised of promises) expect(promised.builds).toBe(1);
  });

  test("tells of the settings that all builds have been tried on, as they are told in the end", async () => {
    const { stopped, builds, settings, present } = await tune(scenario, { ...options, ...stoppedAt(0.9) });
    expect({ stopped, builds }).toEqual({ stopped: true, builds: 20 });
    expect(present).toEqual(whole.present);
    expect(settings.some((one) => whole.settings.some((other) => JSON.stringify(one) === JSON.stringify(other)))).toBe(true);
  });

  test("tells of nothing when it is stopped before it has tried any", async () => {
    expect(await tune(scenario, { ...options, signal: AbortSignal.abort() })).toMatchObject({ stopped: true, settings: [], present: null });
  });
});

describe("hunt", async () => {
  const whole = await hunt(scenario, { tries: 300 });

  test("finds the same with threads", async () => {
    expect(whole.map(({ broken }) => broken)).toContain(true);
    expect(whole.map(({ broken }) => broken)).toContain(false);
    expect(await hunt(scenario, { tries: 300, hire: threads(3) })).toEqual(whole);
  });

  test("what it has found when it is stopped breaks the promise, if not in the plainest way", async () => {
    const found = await hunt(scenario, { tries: 300, ...stoppedAt(0.2) });
    expect(found.some(({ broken }) => broken)).toBe(true);
    found.forEach(({ broken, tries, build }, p) => {
      if (broken) expect(keepsPromise(scenario, p)({ number: 0, deviations: new Map(Object.entries(build!)) })).toBe(false);
      else expect(tries).toBeLessThan(300);
    });
  });
});
