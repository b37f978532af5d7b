/** Where a promise breaks, in words; every moment, length and number of houses is worked out by hand beside it. */
import { describe, expect, test } from "vitest";
import { longestDarkSpell } from "../../sim/figures/dark.js";
import { checkPromises, parseScenario, simulate, type PromiseResult } from "../../sim/index.js";
import { isKept } from "../../sim/promises/judge.js";
import type { Evidence } from "../../sim/promises/kinds/kind.js";
import { valueText } from "../../sim/promises/printing.js";
import { MINUTE, recordOf } from "../properties/records.js";

/** Two openings of ten minutes from ten o'clock. */
function broken(promise: string, { timer = "kind: quartz, step: 100 s", houses = "a: , b: , c:", outputs = "0: a, 1: [a, b], 2: c" } = {}): PromiseResult {
  const text = `{ lampdrift: 1, title: Breaks, opening: { from: "10:00", until: "10:10", run: 2 }, houses: { ${houses} }, promises: [ ${promise} ],
    boards: { q: { timer: { ${timer} }, counter: { kind: ring, steps: 4 }, outputs: { ${outputs} } } } }`;
  const [found] = checkPromises(simulate(parseScenario(text, "breaks.yaml")));
  expect(found!.kept).toBe(false);
  return found!;
}

describe("what is said of the break", () => {
  test("a step that a drifting timer makes too long: after how many powered hours", () => {
    // two openings of ten minutes, in which 100 s grow by a 3000th
    expect(broken("step: { to: 100 s }", { timer: "kind: quartz, step: 100 s, drift: 100 %/1000 h" }).where!.what).toBe("board q: just over 1 min 40 s after 20 min of power");
  });

  test("a house in the dark: which, and for how long", () => {
    // b is dark while c is lit, through the empty fourth step, and again while a is lit alone: from 200 to 500 s
    expect(broken("darkSpell: { atMost: 250 s }").where!.what).toBe("house b is dark for 5 min");
  });

  test("a scene: its length, told apart from the limit that it breaks", () => {
    expect(broken("sceneLasts: { from: 20 s, to: 100 s }", { timer: "kind: quartz, step: 100.3 s" }).where!.what).toBe("the scene lasts 1 min 40.3 s; lit: a");
    expect(broken("sceneLasts: { from: 100 s, to: 500 s }", { timer: "kind: quartz, step: 99.7 s" }).where!.what).toBe("the scene lasts 1 min 39.7 s; lit: a");
  });

  test("of up to eight lit houses all names, of more the number of the others", () => {
    const row = (count: number): { houses: string; outputs: string } => {
      const names = Array.from({ length: count }, (_, i) => `h${i}`);
      return { houses: names.map((name) => `${name}: `).join(", "), outputs: `0: [${names.join(", ")}]` };
    };
    expect(broken("litHouses: { to: 1 }", row(8)).where!.what).toBe("lit: h0, h1, h2, h3, h4, h5, h6, h7");
    expect(broken("litHouses: { to: 1 }", row(9)).where!.what).toBe("lit: h0, h1, h2, h3, h4, h5, h6, h7 and 1 more");
    expect(broken("litHouses: { to: 1 }", row(11)).where!.what).toBe("lit: h0, h1, h2, h3, h4, h5, h6, h7 and 3 more");
    expect(broken("litHouses: { from: 2 }", row(1)).where!.what).toBe("lit: h0");
    expect(broken("litHouses: { from: 1 }", { houses: "a:", outputs: "1: a" }).where!.what).toBe("no house is lit");
  });
});

test("a value is told apart from its limit: by tenths of a second, else as just over or just under", () => {
  expect([100.06, 100.04, 99.96, 99.94].map((value) => valueText(value, 100, "s"))).toEqual(["1 min 40.1 s", "just over 1 min 40 s", "just under 1 min 40 s", "1 min 39.9 s"]);
  expect([0.3002, 0.2998, 0.3].map((value) => valueText(value, 0.3, "share"))).toEqual(["just over 30 %", "just under 30 %", "30 %"]);
  expect(valueText(100.04, null, "s")).toBe("1 min 40 s");
});

test("of dark spells as long as each other the one that begins first, of those the house that is named first", () => {
  // scene n has the houses lit whose bits n has; six houses, of which all but the first three are always dark
  const always = 0b111000;
  const record = recordOf([{ gap: 0, spells: [0b011, 0b101, 0b100, 0b110, 0b001].map((lit) => ({ scene: always | lit, length: MINUTE })) }]);
  // dark: house 0 in the third and fourth minute, house 1 in the second and third, house 2 in the first and the last
  expect(longestDarkSpell(record)).toEqual({ house: 1, start: MINUTE, length: 2 * MINUTE });
  // house 1 and house 2 are both dark in the first two of four minutes, house 0 in the last two
  const even = recordOf([{ gap: 0, spells: [[0b001, 2], [0b110, 2]].map(([lit, minutes]) => ({ scene: always | lit!, length: minutes! * MINUTE })) }]);
  expect(longestDarkSpell(even)).toEqual({ house: 1, start: 0, length: 2 * MINUTE });
});

test("ratings that hold in every build that runs are not kept by one that stalls", () => {
  const evidence = (stalled: readonly string[]): Evidence => ({ steps: [], stalled, outOfReach: false, ratingsHold: true }) as unknown as Evidence;
  expect([evidence([]), evidence(["q"])].map((found) => isKept({ kind: "ratings" }, found))).toEqual([true, false]);
});
