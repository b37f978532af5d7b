import { expect, test } from "vitest";
import { rampPeak, startPulse } from "../../sim/parts/startpulse.js";
import { johnsonWayBack } from "../../sim/parts/selfstart.js";

test("the peak of a reset behind a supply that rises evenly: by steps through the differential equation", () => {
  // v' = V/T − v/τ from first principles (a high-pass), Heun's method
  for (const [tau, ramp] of [[0.1, 0.2], [0.47, 0.2], [0.05, 0.1], [2, 0.03]] as const) {
    const steps = 20_000;
    const dt = ramp / steps;
    let v = 0;
    for (let i = 0; i < steps; i++) {
      const slope = 1 / ramp - v / tau;
      const guess = v + slope * dt;
      v += (dt / 2) * (slope + 1 / ramp - guess / tau);
    }
    expect(rampPeak(tau, ramp)).toBeCloseTo(v, 7);
  }
  // 1 MΩ and 100 nF, a usual choice, reach 43 % of the supply on a ramp of 200 ms, 0.5 · (1 − e^−2); halved by a second 1 MΩ, 25 %
  expect(rampPeak(0.1, 0.2)).toBeCloseTo(0.5 * (1 - Math.exp(-2)), 12);
  expect(rampPeak(0.05, 0.2)).toBeCloseTo(0.25 * (1 - Math.exp(-4)), 12);
});

test("the capacitor that is chosen gets a reset to 0.7 of the supply on a ramp of 200 ms, with its parts at their least", () => {
  for (const volts of [5, 9, 12, 15]) {
    for (const resistors of [[100e3], [100e3, 100e3], [100e3, 100e3, 100e3, 100e3]]) {
      for (const diode of [false, true]) {
        const { farads, peak, needed } = startPulse(volts, resistors, diode);
        const ohms = 100e3 / resistors.length;
        expect(needed).toBeCloseTo(0.7 * volts, 9);
        expect(peak).toBeGreaterThanOrEqual(needed);
        expect(peak).toBeCloseTo(volts * rampPeak(ohms * 0.95 * farads * 0.8, 0.2) - (diode ? 0.6 : 0), 9);
      }
    }
  }
});

test("without its gate a Johnson counter of six stages has 12 of 64 patterns in its cycle; with it, it comes back within 8 steps", () => {
  // TI SBOA550, appendix B: 2^N states of which 2N are used; without recovery it remains locked out
  const back = (stages: number): number => johnsonWayBack(stages);
  expect(back(1)).toBe(0);
  expect(back(2)).toBe(0);
  // by enumeration
  expect([3, 4, 5, 6, 8].map(back)).toEqual([2, 3, 6, 8, 16]);
});
