import { expect, test } from "vitest";
import { cardSheets } from "../../reports/cards/sheet.js";
import { possibleFaults } from "../../sim/faults/possible.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { largeDisplay } from "../bench/large.js";
import { document } from "../paper.js";

/* The cards of a large display need room for one sheet, whatever their number; how much in all is measured by the bench. */

const scenario = parseScenario(largeDisplay(1, 40), "large.yaml");

test("a sheet is drawn when it is asked for, and not before", () => {
  const drawn: number[] = [];
  const contents = Array.from({ length: 5 }, (_, i) => () => void drawn.push(i));
  const sheets = cardSheets({ document, scenario, digest: "01234567", dated: null }, { name: "a", heading: "A", description: "A." }, contents);
  expect(drawn).toEqual([]);
  let n = 0;
  for (const { title } of sheets) {
    n++;
    expect(title).toBe(`A (sheet ${n} of 5)`);
    expect(drawn).toHaveLength(n);
  }
  expect(n).toBe(5);
});

test("what a channel that is stuck on lights is worked out anew whenever it is looked at, and kept by nobody", () => {
  const stuck = possibleFaults(scenario).filter(({ kind }) => kind === "channel-on");
  expect(stuck).toHaveLength(40);
  for (const { displays } of stuck) {
    const [display] = displays;
    expect(display!.disorder).not.toBe(display!.disorder);
    expect(display!.disorder).toEqual(display!.disorder);
  }
});
