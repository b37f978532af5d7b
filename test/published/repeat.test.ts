import { describe, expect, test } from "vitest";
import { simulate } from "../../sim/engine/simulate.js";
import { repeatAfter, repeatCurve } from "../../sim/figures/repeat.js";
import { timeline } from "../../sim/figures/timeline.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { formatClock } from "../../sim/units/clock.js";

interface Ring {
  /** Seconds. */
  readonly step: number;
  readonly steps: number;
}

/** Rings that run day and night, each output with a house of its own. */
function rings(boards: readonly Ring[], days: number, until = "24:00"): ReturnType<typeof timeline> {
  const houses = boards.flatMap(({ steps }, b) => Array.from({ length: steps }, (_, s) => `  h${b}x${s}:`));
  const lines = boards.map(({ step, steps }, b) => {
    const outputs = Array.from({ length: steps }, (_, s) => `${s}: h${b}x${s}`);
    return `  b${b}: { timer: { kind: quartz, step: ${step} s }, counter: { kind: ring, steps: ${steps} }, outputs: { ${outputs.join(", ")} } }`;
  });
  const text = ["lampdrift: 1", "title: Rings", `opening: { until: "${until}", overnight: on, run: ${days} }`, "houses:", ...houses, "boards:", ...lines];
  return timeline(simulate(parseScenario(text.join("\n"), "rings.yaml")));
}

/** max(0, 1 − |D − nearest multiple of the cycle| / step) of every ring, multiplied. */
function closedForm(boards: readonly Ring[], delay: number): number {
  return boards.reduce((product, { step, steps }) => {
    const cycle = step * steps;
    const off = Math.abs(delay - Math.round(delay / cycle) * cycle);
    return product * Math.max(0, 1 - off / step);
  }, 1);
}

/*
 * Elementary, no source needed: whether ring b stands at the same step at t and t + D depends only on t mod s_b, its
 * step; it does for a share max(0, 1 − |off| / s_b) of these phases, whole seconds where s_b and D are. Steps that are
 * coprime in seconds meet in every combination of phases exactly once in M = s_1·s_2·s_3 seconds (Chinese remainders):
 * one meeting. Over M seconds the mean of the product is the product of the means P. T − D seconds are looked at: m whole
 * stretches of M and r = (T − D) mod M seconds more, in which the share is unknown but between 0 and 1. So
 * |R(D) − P| ≤ max(P, 1 − P)·r / (T − D), and R(D) = P where r = 0. Sums are exact, quotients are to 1e-15.
 */
function bound(boards: readonly Ring[], seconds: number, delay: number): number {
  const meeting = boards.reduce((product, { step }) => product * step, 1);
  const wanted = closedForm(boards, delay);
  return (Math.max(wanted, 1 - wanted) * ((seconds - delay) % meeting)) / (seconds - delay) + 1e-12;
}

describe("independent rings with constant steps: R(D) is the product over boards", () => {
  test.each<[string, Ring[], number]>([
    ["one ring", [{ step: 600, steps: 7 }], 1],
    ["two rings", [{ step: 31, steps: 10 }, { step: 37, steps: 12 }], 3],
    ["three rings", [{ step: 4, steps: 5 }, { step: 5, steps: 6 }, { step: 7, steps: 4 }], 1],
    ["three longer rings", [{ step: 17, steps: 10 }, { step: 19, steps: 8 }, { step: 23, steps: 12 }], 30],
  ])("%s", (_, boards, days) => {
    const line = rings(boards, days);
    for (const { afterSeconds, share } of repeatCurve(line)) {
      const off = Math.abs(share! - closedForm(boards, afterSeconds));
      expect(off, `R(${afterSeconds} s)`).toBeLessThanOrEqual(bound(boards, days * 86_400, afterSeconds));
    }
  });

  test("exactly, to rounding, over whole meetings", () => {
    // Steps coprime in minutes, a meeting of 140 min, an opening of eight meetings more than the return time
    const boards = [{ step: 240, steps: 3 }, { step: 300, steps: 3 }, { step: 420, steps: 2 }];
    let partial = 0;
    for (let minutes = 1; minutes <= 180; minutes++) {
      const wanted = closedForm(boards, minutes * 60);
      if (wanted > 0 && wanted < 1) partial++;
      const line = rings(boards, 1, formatClock((minutes + 8 * 140) * 60e6));
      expect(repeatAfter(line, minutes * 60e6), `R(${minutes} min)`).toBeCloseTo(wanted, 13);
    }
    expect(partial).toBeGreaterThan(20);
  });
});
