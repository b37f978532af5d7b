import fc from "fast-check";
import { expect, test } from "vitest";
import { Slice } from "../../sim/engine/slice.js";
import { truncatedNormal, truncatedNormals } from "../../sim/random/normal.js";
import { stream } from "../../sim/random/streams.js";

/** Boards with the times of their pulses in order, some at the same moments as those of others. */
const boards = fc.array(
  fc.record({
    steps: fc.integer({ min: 1, max: 40 }),
    step: fc.nat({ max: 1000 }),
    times: fc.array(fc.integer({ min: 0, max: 300 }), { maxLength: 60 }).map((times) => [...times].sort((a, b) => a - b)),
  }),
  { minLength: 1, maxLength: 9 },
);

test("the pulses of a slice come in the order of time, each with the step that it leads to, as a list that is sorted", () => {
  fc.assert(
    fc.property(boards, fc.integer({ min: 0, max: 2 ** 45 }), fc.integer({ min: 1, max: 50 }), (all, from, room) => {
      const slice = new Slice(all.length, all.reduce((sum, { steps }) => sum + steps, 0), room);
      slice.begin(from);
      const wanted: string[] = [];
      let first = 0;
      for (const { steps, step, times } of all) {
        const start = slice.count;
        times.forEach((time, i) => {
          slice.room(start + i, 1)[start + i] = from + time;
          wanted.push(`${String(from + time).padStart(20)} ${String(first + ((step + 1 + i) % steps)).padStart(5)}`);
        });
        slice.add(start + times.length, first, steps, step % steps);
        first += steps;
      }
      slice.order();
      const found = Array.from(slice.pulses.subarray(0, slice.count), (pulse) => [from + Math.floor(pulse / slice.scale), pulse % slice.scale] as const);
      expect(found.map(([time]) => time)).toEqual([...found.map(([time]) => time)].sort((a, b) => a - b));
      expect(found.map(([time, at]) => `${String(time).padStart(20)} ${String(at).padStart(5)}`).sort()).toEqual(wanted.sort());
    }),
    { seed: 31, numRuns: 100 },
  );
});

test("deviates that are drawn many at a time are those that come one after the other, whatever is drawn between", () => {
  fc.assert(
    fc.property(fc.string(), fc.array(fc.integer({ min: 0, max: 200 }), { maxLength: 8 }), fc.constantFrom(0.5, 2, 4), (seed, lengths, limit) => {
      const [many, single] = [stream(seed, 1, "quay", "jitter"), stream(seed, 1, "quay", "jitter")];
      for (const length of lengths) {
        const list = new Float64Array(length);
        truncatedNormals(many, limit, list);
        expect([...list]).toEqual(Array.from({ length }, () => truncatedNormal(single, limit)));
        expect(many.uniform()).toBe(single.uniform());
      }
    }),
    { seed: 32, numRuns: 60 },
  );
});
