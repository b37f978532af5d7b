import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { RunListener } from "../../sim/engine/listener.js";
import { listenedRun, simulate } from "../../sim/engine/simulate.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { readScenario } from "../../sim/scenario/file.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { demo, demos } from "../endtoend/command.js";
import { replay } from "../oracle/replay.js";
import { display, textOf } from "./displays.js";
import { often } from "../thorough.js";

/** Notes all it hears. */
function notebook(): { readonly heard: string[]; readonly listener: RunListener } {
  const heard: string[] = [];
  return {
    heard,
    listener: {
      opens: ({ from, until }, opening) => heard.push(`opens ${opening}: ${from} to ${until}`),
      spell: (time, scene, houses) => heard.push(`spell ${time}: scene ${scene}, ${houses.join(" ")}`),
      closes: ({ from, until }, opening) => heard.push(`closes ${opening}: ${from} to ${until}`),
      moves: (time, board, step) => heard.push(`moves ${time}: ${board} to ${step}`),
    },
  };
}

/** What a run tells while it goes on, in pieces of so many events; and what its finished record tells. */
function toldAndRecorded(scenario: Scenario, events: number): [told: string[], recorded: string[]] {
  const told = notebook();
  const run = listenedRun(scenario, told.listener);
  while (run.advance(events));
  const recorded = notebook();
  replay(simulate(scenario, { trace: true }), recorded.listener);
  return [told.heard, recorded.heard];
}

/** Boards that wake or stop as the display opens or closes do so in the same microsecond, before or after it is told. */
function expectSame([told, recorded]: [string[], string[]]): void {
  for (const kinds of [/^(moves|spell)/, /^(opens|spell|closes)/]) {
    const of = (heard: readonly string[]): string[] => heard.filter((line) => kinds.test(line));
    expect(of(told)).toEqual(of(recorded));
  }
}

describe("a listener hears exactly what the record keeps", () => {
  test.each(demos)("of %s", async (name) => {
    const both = toldAndRecorded(await readScenario(demo(name)), 5000);
    expectSame(both);
    expect(both[0].filter((line) => line.startsWith("spell")).length).toBeGreaterThan(100);
  });

  test("of any display, however it is cut into pieces", () => {
    fc.assert(
      fc.property(display, fc.integer({ min: 1, max: 400 }), (drawn, events) => {
        expectSame(toldAndRecorded(parseScenario(textOf(drawn), "display.yaml"), events));
      }),
      { seed: 17, numRuns: often(14, 60) },
    );
  });
});

test("of any display a move is told before the spell that it begins, and spells lie within their opening", () => {
  fc.assert(
    fc.property(display, (drawn) => {
      const scenario = parseScenario(textOf(drawn), "display.yaml");
      let now = -1;
      let open: { readonly from: number; readonly until: number } | null = null;
      const run = listenedRun(scenario, {
        opens: (hours) => {
          expect(open).toBeNull();
          open = hours;
        },
        spell: (time) => {
          expect(open !== null && time >= open.from && time < open.until).toBe(true);
          expect(time).toBeGreaterThanOrEqual(now);
          now = time;
        },
        closes: (hours) => {
          expect(open).toEqual(hours);
          open = null;
        },
        moves: (time) => {
          expect(time).toBeGreaterThanOrEqual(now);
          now = time;
        },
      });
      while (run.advance(100));
      expect(open).toBeNull();
    }),
    { seed: 18, numRuns: often(8, 20) },
  );
});
