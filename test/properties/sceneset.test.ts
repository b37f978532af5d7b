import fc from "fast-check";
import { expect, test } from "vitest";
import { Scenes } from "../../sim/engine/sceneset.js";

/** Displays on both sides of 32 and 64 houses, with two scenes each. */
const drawn = fc
  .integer({ min: 1, max: 100 })
  .chain((houses) => fc.record({ houses: fc.constant(houses), lists: fc.array(fc.uniqueArray(fc.nat(houses - 1)), { minLength: 2, maxLength: 4 }) }));

test("scenes as masks say what lists of houses say, however many houses there are", () => {
  fc.assert(
    fc.property(drawn, ({ houses, lists }) => {
      const scenes = Scenes.of(houses, lists);
      const sets = lists.map((list) => new Set(list));
      const into = new Int32Array(houses);
      expect(scenes.length).toBe(lists.length);
      for (const [s, set] of sets.entries()) {
        expect(scenes.lit(s)).toEqual([...set].sort((a, b) => a - b));
        expect(scenes.count(s)).toBe(set.size);
        const before = sets[s - 1] ?? new Set<number>();
        const differ = Array.from({ length: houses }, (_, house) => house).filter((house) => set.has(house) !== before.has(house));
        expect(Array.from(into.subarray(0, scenes.changed(s - 1, s, into)))).toEqual(differ);
        for (let house = 0; house < houses; house++) {
          expect(scenes.isLit(s, house)).toBe(set.has(house));
          expect(scenes.meets(s, Scenes.of(houses, [[house]]).masks)).toBe(set.has(house));
        }
      }
    }),
    { numRuns: 40 },
  );
});
