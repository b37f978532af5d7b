import type { SceneRecord } from "../engine/record.js";
import { sequence } from "../counters/sequence.js";
import { boardTimes } from "../timers/boardtimes.js";
import type { Seconds } from "../units/time.js";

/** Times and pulses of one board; seconds. */
export interface BoardFigures {
  readonly id: string;
  readonly steps: number;
  /** Times at the room's mean temperature, in the build that was simulated. */
  readonly stepSeconds: Seconds;
  readonly firstStepSeconds: Seconds;
  readonly cycleSeconds: Seconds;
  /** Clock pulses while powered. */
  readonly pulses: number;
}

/** Figures of every board. */
export function boardFigures({ scenario, boards, build }: SceneRecord): BoardFigures[] {
  const times = boardTimes(scenario, build);
  return scenario.boards.map(({ id, counter }, b) => {
    const { stepSeconds, firstStepSeconds, cycleSeconds } = times[b]!;
    return { id, steps: sequence(counter).steps, stepSeconds, firstStepSeconds, cycleSeconds, pulses: boards[b]!.pulses };
  });
}
