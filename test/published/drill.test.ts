/** What is said of one fault that was made by hand: what the exercise answers, what speaks for it and against it. */
import { describe, expect, test } from "vitest";
import { Drill, type FaultTable, type Observation } from "../../sim/faults/index.js";
import { Light } from "../../sim/faults/light.js";
import { nextLook } from "../../sim/faults/next.js";
import { insteadInWords, seenInWords } from "../../sim/faults/seeninwords.js";
import { parseScenario } from "../../sim/scenario/read.js";

const SECOND = 1_000_000;
const scenario = parseScenario(
  `{ lampdrift: 1, title: Drill, opening: { from: "10:00", until: "10:20", run: 1 }, houses: { a: , b: },
    boards: { q: { timer: { kind: quartz, step: 60 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: a, 1: b } } } }`,
  "drill.yaml",
);
const LENGTH = 1200 * SECOND;
const light = (...turns: readonly (readonly number[])[]): Light => new Light(LENGTH, turns.map((house) => house.map((at) => at * SECOND)));
const table: FaultTable = {
  scenario,
  healthy: light([0, 60, 120, 180], [60, 120, 180, 240]),
  // a is lit from switch-on to one minute, and again from the second to the tenth; b never
  groups: [{ faults: [{ kind: "lamp-out", board: "q", where: "output 1, b", text: "The lamp of b is out.", spot: { part: "lamp", output: 1, house: 1 } }], lights: [light([0, 60, 120, 600], [])] }],
  slowestCycle: 120 * SECOND,
  rounds: [120 * SECOND],
  timeless: new Set(),
};
const asked = (line: string): string => new Drill(table, "any").answer(line);

test("a house that is watched: what it does from switch-on until then, the last moment left out", () => {
  expect(asked("watch a 59 s")).toBe("a: lit all the time");
  expect(asked("watch a 60 s")).toBe("a: lit all the time");
  expect(asked("watch a 61 s")).toBe("a: lit, dark from 1 min");
  expect(asked("watch a 20 min")).toBe("a: lit, dark from 1 min, lit from 2 min, dark from 10 min");
  expect(asked("watch b 20 min")).toBe("b: dark all the time");
});

test("the longest look is the whole opening", () => {
  for (const what of ["watch a", "board q"]) {
    expect(asked(`${what} 20 min`)).not.toContain("expected");
    for (const time of ["20 min 1 s", "0 s"]) expect(asked(`${what} ${time}`)).toBe('expected a time after switch-on, such as "12 min", at most 20 min');
  }
});

test("a board that is watched: which of its houses change, and how often", () => {
  // a changes after 60, 120 and 600 s: 60 and 480 s between, of which the upper one is told
  expect(asked("board q 20 min")).toBe("board q: change, about every 8 min: a; dark all the time: b");
  expect(asked("board q 2 min")).toBe("board q: change: a; dark all the time: b");
  expect(asked("board q 1 min")).toBe("board q: lit all the time: a; dark all the time: b");
});

describe("what was seen, and what would be", () => {
  const faulty = table.groups[0]!.lights[0]!;
  const at = (seconds: number): { readonly until: number } => ({ until: seconds * SECOND });
  test.each<[Observation, seen: string, instead: string]>([
    [{ kind: "dark", house: 0, ...at(60), whileLit: null }, "a stays dark, for 1 min from switch-on", "a would be lit at switch-on"],
    [{ kind: "lit", house: 0, ...at(90), whileLit: null }, "a stays lit, for 1 min 30 s from switch-on", "a would be dark 1 min after switch-on"],
    [{ kind: "lit", house: 1, ...at(60), whileLit: null }, "b stays lit, for 1 min from switch-on", "b would be dark at switch-on"],
    [{ kind: "changing", house: 0, ...at(60), whileLit: null }, "a is seen both dark and lit, for 1 min from switch-on", "a would stay lit, for 1 min from switch-on"],
    [{ kind: "changing", house: 1, ...at(60), whileLit: 0 }, "b is seen both dark and lit while a is lit, for 1 min from switch-on", "b would be dark whenever a is lit, for 1 min from switch-on"],
    [{ kind: "lit", house: 0, ...at(60), whileLit: 1 }, "a is lit whenever b is lit, for 1 min from switch-on", "b would not be lit at all, for 1 min from switch-on"],
    [{ kind: "times", house: 0, ...at(60), times: 2 }, "a comes on 2 times, for 1 min from switch-on", "a would come on once, for 1 min from switch-on"],
    [{ kind: "times", house: 1, ...at(60), times: 1 }, "b comes on once, for 1 min from switch-on", "b would come on never, for 1 min from switch-on"],
    [{ kind: "dark-at", house: 0, at: 30 * SECOND }, "a is dark 30 s after switch-on", "a would be lit 30 s after switch-on"],
    [{ kind: "lit-at", house: 0, at: 60 * SECOND }, "a is lit 1 min after switch-on", "a would be dark 1 min after switch-on"],
    [{ kind: "frozen", board: 0, ...at(90) }, "no house of board q changes, for 1 min 30 s from switch-on", "a would change"],
    [{ kind: "slow", board: 0, ...at(90) }, "the houses of board q change less often than planned, for 1 min 30 s from switch-on", "the houses of board q would hardly change"],
    [{ kind: "fast", board: 0, ...at(1200) }, "the houses of board q change more often than planned, for 20 min from switch-on", "the houses of board q would change every 8 min"],
  ])("%j", (observation, seen, instead) => {
    expect(seenInWords(scenario, observation)).toBe(seen);
    expect(insteadInWords(table, faulty, observation)).toBe(instead);
  });
});

test("the next look comes in a stretch of ten seconds at least, at a whole second; where none is so long, in the middle of a shorter one", () => {
  const look = (off: number): unknown => nextLook(table, [[light([0, 60.4], [])], [light([0, off], [])]]);
  expect(look(70.4)).toMatchObject({ house: 0, kind: "moment", until: 65 * SECOND, certain: true });
  expect(look(69.4)).toMatchObject({ house: 0, kind: "moment", until: 64_900_000, certain: true });
  // of a long stretch half a minute after its beginning, and a twentieth of the time until then: 10 s + 30 s + 0.5 s
  expect(nextLook(table, [[light([0, 10], [])], [light([0, 118], [])]])).toMatchObject({ house: 0, kind: "moment", until: 41 * SECOND });
  expect(look(60.4)).toBeNull();
});
