import fc from "fast-check";
import { expect, test } from "vitest";
import { StepClock } from "../../sim/engine/stepclock.js";
import type { Room } from "../../sim/model/scenario.js";
import type { AstableTimer } from "../../sim/model/timer.js";
import { stream } from "../../sim/random/streams.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { NOMINAL } from "../../sim/timers/build.js";
import { clockwork, type Clockwork } from "../../sim/timers/clockwork.js";
import { WarmCurve } from "../../sim/timers/warmcurve.js";
import { DAY, HOUR } from "../../sim/units/time.js";
import { often } from "../thorough.js";

/** Steps in a warm room are read off a curve; here they are held against the formulas, temperature by temperature. */

const room = fc.record({
  mean: fc.double({ min: 5, max: 35, noNaN: true }),
  swing: fc.double({ min: 0.1, max: 15, noNaN: true }),
  warmest: fc.integer({ min: 0, max: DAY }),
});

/** A timer with ohms, farads, temperature coefficients and a leakage that brings some of them close to stalling. */
const works = fc
  .record({
    ra: fc.double({ min: 1e4, max: 2e6, noNaN: true }),
    rb: fc.double({ min: 1e4, max: 2e6, noNaN: true }),
    c: fc.double({ min: 1e-6, max: 1e-3, noNaN: true }),
    tempcos: fc.tuple(...[1, 2, 3].map(() => fc.double({ min: -3e-3, max: 3e-3, noNaN: true }))),
    /** Share of the current that would stall it. */
    drawn: fc.double({ min: 0, max: 0.97, noNaN: true }),
  })
  .map(({ ra, rb, c, tempcos, drawn }): Clockwork => {
    const [first, second, third] = tempcos;
    const text = `
lampdrift: 1
title: Warm
houses: { a: }
boards:
  b:
    timer:
      kind: astable
      ra: { value: ${ra}, tempco: ${first} }
      rb: { value: ${rb}, tempco: ${second} }
      c: { value: ${c}, tempco: ${third}, leakage: ${(drawn * 4) / (ra + rb) / 1.2} }
    counter: { kind: ring, steps: 2 }
    outputs: { 0: a }
`;
    const scenario = parseScenario(text, "warm.yaml");
    return clockwork("b", scenario.boards[0]!.timer as AstableTimer, scenario.supply.volts, scenario.room, NOMINAL);
  });

/** The temperature of the design: mean + swing·cos(2π·(t − warmest)/24 h). */
function warmthAt({ mean, swing, warmest }: Room, t: number): number {
  return mean + swing * Math.cos((2 * Math.PI * (t - warmest)) / DAY);
}

test("a step is the formula's to the last microsecond, at every time of day", () => {
  fc.assert(
    fc.property(works, room, fc.integer({ min: 0, max: 40 * DAY }), (timer, around, start) => {
      const clock = new StepClock(timer, around, stream("warm", 0, "b", "jitter"));
      clock.switchOn(start);
      for (let t = start; t < start + DAY; t += 0.37 * HOUR) {
        const at = Math.floor(t);
        const seconds = timer.period(warmthAt(around, at));
        expect(clock.step(at, 1, false)).toBe(Math.max(1, Math.floor(seconds * 1e6 + 0.5)));
      }
    }),
    { numRuns: often(80, 200) },
  );
});

test("where there is a curve, it is within a thousandth of a microsecond of the formula at any time of 300 years", () => {
  let curves = 0;
  const moment = fc.record({ day: fc.oneof(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 0, max: 109_000 })), time: fc.integer({ min: 0, max: DAY - 1 }) });
  fc.assert(
    fc.property(works, room, fc.array(moment, { minLength: 5, maxLength: 5 }), (timer, around, moments) => {
      const curve = WarmCurve.of(timer, around);
      if (curve === null) return;
      for (const { day, time } of moments) {
        const t = day * DAY + time;
        const found = curve.period(t);
        if (Number.isNaN(found)) continue;
        curves++;
        expect(Math.abs(found - timer.period(warmthAt(around, t)) * 1e6)).toBeLessThan(1e-3);
      }
    }),
    { numRuns: often(150, 300) },
  );
  // timers close to stalling go by the formula, and where rounding of the time of day makes too much of a difference
  expect(curves).toBeGreaterThan(often(250, 500));
});

test("a timer close to stalling has no bound and no curve", () => {
  const near: Clockwork = { ...fc.sample(works, { numRuns: 1, seed: 1 })[0]!, most: () => Infinity };
  expect(WarmCurve.of(near, { mean: 20, swing: 2, warmest: 0 })).toBeNull();
});
