import fc from "fast-check";
import { expect, test } from "vitest";
import { wordSlips } from "../../sim/scenario/wordslips.js";

// kitten and sitting: the example of any textbook of string matching; CA and ABC: L. Boytsov, "Indexing methods for approximate
// dictionary searching", ACM Journal of Experimental Algorithmics 16 (2011), where the alignment must not edit what it swapped;
// from memory
test.each([
  ["kitten", "sitting", 3],
  ["ca", "abc", 3],
  ["teh", "the", 1],
  ["setps", "steps", 1],
  ["counter", "countr", 1],
  ["", "abc", 3],
  ["abc", "", 3],
  ["same", "same", 0],
])("from %j to %j it is %i slips", (a, b, slips) => {
  expect(wordSlips(a, b)).toBe(slips);
  expect(wordSlips(b, a)).toBe(slips);
});

test("any single slip counts as one", () => {
  const words = fc.string({ unit: fc.constantFrom("a", "b", "c", "d"), minLength: 2, maxLength: 12 });
  fc.assert(
    fc.property(words, fc.nat(), fc.constantFrom("x", "y"), (word, n, letter) => {
      const at = n % word.length;
      expect(wordSlips(word, word.slice(0, at) + word.slice(at + 1))).toBe(1);
      expect(wordSlips(word, word.slice(0, at) + letter + word.slice(at))).toBe(1);
      expect(wordSlips(word, word.slice(0, at) + letter + word.slice(at + 1))).toBe(1);
      const swapped = word.slice(0, at) + (word[at + 1] ?? "") + word[at]! + word.slice(at + 2);
      expect(wordSlips(word, swapped)).toBe(word === swapped ? 0 : 1);
    }),
    { seed: 30, numRuns: 100 },
  );
});
