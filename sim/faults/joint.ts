import type { Scenario } from "../model/scenario.js";
import { stream, type Stream } from "../random/streams.js";
import { openings } from "../engine/calendar.js";
import { boardTimes } from "../timers/boardtimes.js";
import { type Micros, MINUTE, SECOND } from "../units/time.js";
import type { PossibleFault } from "./planted.js";

/** Ways in which a loose joint is tried: nobody knows when it opens. */
const WAYS = 3;
/** It opens so many times in an opening at least, on average. */
const LEAST_TIMES = 4;

/**
 * A loose joint in the supply of board b: it loses its power for a moment now and then, once in a round on average, and
 * begins anew each time. The waits are exponential, from a random stream of their own.
 */
export function looseJoint(scenario: Scenario, b: number): PossibleFault[] {
  const { id } = scenario.boards[b]!;
  const { from, until } = openings(scenario.opening)[0]!;
  const round = boardTimes(scenario)[b]!.cycleSeconds * SECOND;
  const mean = Math.max(MINUTE, Math.min(round, (until - from) / LEAST_TIMES));
  const dice = stream(scenario.seed, 0, id, "restarts");
  const displays = Array.from({ length: WAYS }, () => ({
    scenario,
    disorder: { restarts: { board: b, moments: momentsOf(dice, mean, from, until) } },
  }));
  return [
    {
      kind: "restarts",
      board: id,
      where: "loose joint",
      text: `Board ${id} begins anew now and then: a loose joint or plug takes its ` +
        `power for a moment. Nobody can foretell when; ${WAYS} ways are tried.`,
      spot: { part: "joint" },
      displays,
    },
  ];
}

function momentsOf(dice: Stream, mean: number, from: Micros, until: Micros): Micros[] {
  const moments: Micros[] = [];
  for (let at = from; ; ) {
    // 1 − u lies in (0, 1]: the logarithm is finite
    at += Math.max(1, Math.round(-Math.log(1 - dice.uniform()) * mean));
    if (at >= until) return moments;
    moments.push(at);
  }
}
