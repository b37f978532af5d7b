/** Which boards an echo comes of; a board is back for max(0, 1 − |D − nearest round| / step) of the time, worked out by hand. */
import { describe, expect, test } from "vitest";
import { parseScenario } from "../../sim/scenario/read.js";
import { echoAdvice, type EchoAdvice } from "../../sim/planning/echoes.js";

/** Rings with houses of their own, and what is said of an echo at a return time. */
function told(boards: readonly (readonly [step: number, steps: number])[], afterSeconds: number): EchoAdvice {
  const houses = boards.flatMap(([, steps], b) => Array.from({ length: steps }, (_, s) => `h${b}x${s}: `));
  const lines = boards.map(([step, steps], b) => `b${b}: { timer: { kind: quartz, step: ${step} s }, counter: { kind: ring, steps: ${steps} },
    outputs: { ${Array.from({ length: steps }, (_, s) => `${s}: h${b}x${s}`).join(", ")} } }`);
  const text = `{ lampdrift: 1, title: Echoes, houses: { ${houses.join(", ")} }, boards: { ${lines.join(", ")} } }`;
  const [echo] = echoAdvice(parseScenario(text, "echoes.yaml"), [{ afterSeconds, share: 0.3 }]);
  return echo as EchoAdvice;
}

/** The boards named, each with its rounds. */
const named = (boards: readonly (readonly [step: number, steps: number])[], afterSeconds: number): string[] =>
  (told(boards, afterSeconds).pair?.boards ?? []).map(({ id, rounds }) => `${id} ${rounds}`);

describe("the pair that an echo comes of", () => {
  // rounds of 800 s and 900 s, steps of 100 s: the second is at its old step from 800 s on, the first until 900 s
  test.each<[after: number, pair: string[]]>([[800, []], [801, ["b0 1", "b1 1"]], [899, ["b0 1", "b1 1"]], [900, []], [1000, []]])(
    "of boards that are back for part of the time: after %i s",
    (after, pair) => expect(named([[100, 8], [100, 9]], after)).toEqual(pair),
  );

  test("of boards that have gone round, not of those that have yet to move on", () => {
    // after 200 s the quick board has gone round twice; the two others are still in their first steps
    expect(named([[50, 2], [1000, 8], [1100, 8]], 200)).toEqual([]);
  });

  test("is said to end together where nobody sees the difference of half a second, else so far apart", () => {
    expect(told([[100, 8], [100.05, 8]], 800).text).toContain("Then one round of b0 and one round of b1 end together.");
    expect(told([[100, 8], [100.25, 8]], 800).text).toContain("Then one round of b0 and one round of b1 end 2 s apart.");
    expect(told([[100, 9], [112.5, 8]], 900).text).toContain("one round of b0 and one round of b1 end together.");
    expect(told([[100, 9], [75.1, 12]], 900).text).toContain("one round of b0 and one round of b1 end 1.2 s apart.");
  });
});
