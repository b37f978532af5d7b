/** A house written to another place: the YAML library reads what is new, and all else stays byte for byte. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { withHouseAt } from "../../sim/scenario/moved.js";

const WAYS: Readonly<Record<string, string>> = {
  "in braces": "houses:\n  inn: { name: Inn, at: [40, 120] }   # by the quay\n  barn: { at: [1, 2] }\n",
  "in lines": "houses:\n  inn:\n    # where it stands\n    at:\n    - 40   # from the left\n    - 120  # from above\n    name: Inn\n  barn:\n",
  "without a place": "houses:\n  inn: { name: Inn }   # by the quay\n",
  "without a place, in lines": "houses:\n  inn:   # by the quay\n    name: Inn   # its name\n  barn:\n",
  "nothing at all": "houses:\n  inn:   # just a house\n  barn:\n",
  "an empty mapping": "houses: { inn: {}, barn: }   # two\n",
};

describe("a house in another place", () => {
  test.each(Object.entries(WAYS))("%s", (_, text) => {
    fc.assert(
      fc.property(fc.integer({ min: -100_000, max: 100_000 }), fc.integer({ min: -100_000, max: 100_000 }), (x, y) => {
        const edited = withHouseAt(text, "a.yaml", "inn", [x, y]);
        const was = parse(text) as { houses: Record<string, object | null> };
        expect(parse(edited)).toEqual({ houses: { ...was.houses, inn: { ...was.houses["inn"], at: [x, y] } } });
        expect(edited.match(/#.*/g)).toEqual(text.match(/#.*/g));
        // the other house's line is the same
        expect(edited.split("\n").filter((line) => line.includes("barn") && !line.includes("inn"))).toEqual(
          text.split("\n").filter((line) => line.includes("barn") && !line.includes("inn")),
        );
      }),
      { numRuns: 20 },
    );
  });

  test("is added to a variant that does not name it", () => {
    expect(parse(withHouseAt("base: a.yaml\n# hours\nopening: { run: 3 }\n", "b.yaml", "inn", [4, 5]))).toEqual({ base: "a.yaml", opening: { run: 3 }, houses: { inn: { at: [4, 5] } } });
  });

  test("is refused where others would move too", () => {
    expect(() => withHouseAt("houses:\n  inn: &place { at: [1, 2] }\n  barn: *place\n", "a.yaml", "barn", [3, 4])).toThrow(/alias/);
    expect(() => withHouseAt("houses:\n  inn: &place { at: [1, 2] }\n  barn: *place\n", "a.yaml", "inn", [3, 4])).toThrow(/shares its keys/);
  });
});
