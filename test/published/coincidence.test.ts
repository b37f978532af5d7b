import { describe, expect, test } from "vitest";
import { simulate } from "../../sim/engine/simulate.js";
import type { SceneRecord } from "../../sim/engine/record.js";
import { parseScenario } from "../../sim/scenario/read.js";

/**
 * A shuffle board of n rows, each a scene of its own. It never repeats the row it is at: after the first, each row is one
 * of the n − 1 others, all equally likely. So what follows a row is a draw from n − 1 boxes, and the classical laws hold
 * with n − 1 in place of n, for the rows after the first: the first k rows differ with probability
 * Π (n − i)/(n − 1), i = 1 … k − 1, that of k − 1 people without a shared birthday among n − 1 days.
 */
function shuffled(rows: number, opening: string): SceneRecord {
  const bits = Math.ceil(Math.log2(rows + 1));
  const steps = Array.from({ length: rows }, (_, row) => {
    const outputs = Array.from({ length: bits }, (_b, i) => i).filter((i) => ((row + 1) >> i) & 1);
    return `[${outputs.join(", ")}]`;
  });
  const names = Array.from({ length: bits }, (_, i) => i);
  const text = `lampdrift: 1
title: Shuffle
seed: coincidence
opening: ${opening}
houses: { ${names.map((i) => `h${i}: `).join(", ")} }
boards:
  mixed:
    timer: { kind: quartz, step: 60 s }
    counter: { kind: shuffle, steps: [${steps.join(", ")}] }
    outputs: { ${names.map((i) => `${i}: h${i}`).join(", ")} }
`;
  return simulate(parseScenario(text, "shuffle.yaml"));
}

/** A bound that a sound draw exceeds once in about a million times (normal approximation, 4.9 standard deviations). */
const RARELY = 4.9;

describe("birthday problem", () => {
  // Fisher, Funk, Sams notes (.476 .507 .706 to three figures), computed to ten: chance of a shared birthday among n people
  test.each([
    [22, 0.4756953077],
    [23, 0.5072972343],
    [30, 0.7063162427],
  ])("with 366 rows, the first and %i more hold a repeat with probability %f", (people, wanted) => {
    const openings = 4000;
    const record = shuffled(366, `{ from: "00:00", until: "00:${people + 1}", run: ${openings} }`);
    let repeats = 0;
    for (const { first, end } of record.openings) {
      expect(end - first).toBe(people + 1);
      if (new Set(record.spellScene.subarray(first, end)).size < end - first) repeats++;
    }
    const sd = Math.sqrt((wanted * (1 - wanted)) / openings);
    expect(Math.abs(repeats / openings - wanted)).toBeLessThan(RARELY * sd);
  });
});

describe("coupon collector", () => {
  // Feller, vol. 1 (from memory), exact fractions: mean n·H_n; 8: 761/35, standard deviation 8.71849495; 10: 7381/252, 11.2110254
  test.each([
    [9, 761 / 35, 8.71849495],
    [11, 7381 / 252, 11.2110254],
  ])("with %i rows, all others are seen after %f more on average", (rows, mean, sd) => {
    const record = shuffled(rows, `{ overnight: on, run: 60 }`);
    const waits: number[] = [];
    let seen = new Set<number>();
    let count = 0;
    for (const scene of record.spellScene) {
      if (seen.size > 0) count++;
      seen.add(scene);
      if (seen.size < rows) continue;
      waits.push(count);
      // the row just reached is the first of the next collection
      seen = new Set([scene]);
      count = 0;
    }
    expect(waits.length).toBeGreaterThan(2000);
    const found = waits.reduce((sum, wait) => sum + wait, 0) / waits.length;
    expect(Math.abs(found - mean)).toBeLessThan((RARELY * sd) / Math.sqrt(waits.length));
  });
});
