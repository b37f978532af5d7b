import type { BoardWiring } from "../engine/wiring.js";
import { boardTimes } from "../timers/boardtimes.js";
import type { Scenario } from "../model/scenario.js";
import type { KnobSetting } from "../model/timer.js";
import { spokenDuration } from "../units/text.js";
import { NOTICED } from "./pace.js";
import { withBoard, type PossibleFault } from "./planted.js";
import { standing, standingAt } from "./standstill.js";

/** Where the knob may stand by mistake: shares of its travel. */
const POSITIONS = [0, 0.25, 0.5, 0.75, 1];
/** Steps are followed down to this share of what is planned: shorter ones look the same, a flicker. */
const SHORTEST_SHARE = 1 / 20;

/**
 * A board with a trimmer whose knob stands too far to one side. It may stand anywhere there, so that several positions are
 * tried: both ends of the track and those between that one would notice.
 */
export function knobFaults(scenario: Scenario, b: number): PossibleFault[] {
  const board = scenario.boards[b]!;
  const { timer } = board;
  if (timer.kind !== "astable" || timer.trimmer === null) return [];
  const { trimmer } = timer;
  const planned = boardTimes(scenario)[b]!.stepSeconds;
  const turned = (setting: KnobSetting): Scenario =>
    withBoard(scenario, b, { ...board, timer: { ...timer, trimmer: { ...trimmer, setting } } });
  const tried = POSITIONS.map((dial) => ({ display: turned({ kind: "dial", dial }), step: boardTimes(turned({ kind: "dial", dial }))[b]!.stepSeconds }));
  const down = tried.filter(({ step }) => step < planned / (1 + NOTICED));
  const up = tried.filter(({ step }) => step > planned * (1 + NOTICED));
  const flicker = down.some(({ step }) => step < planned * SHORTEST_SHARE) ? [turned({ kind: "step", step: planned * SHORTEST_SHARE, reading: 0 })] : [];
  const seen = down.filter(({ step }) => step >= planned * SHORTEST_SHARE).map(({ display }) => display);
  const fault = (way: "long" | "short", lasting: string, displays: readonly Scenario[]): PossibleFault[] =>
    displays.length === 0
      ? []
      : [
          {
            kind: "knob-off",
            board: board.id,
            where: `knob, towards ${way} steps`,
            text: `The knob of board ${board.id} is turned too far towards ${way} steps: ${lasting} instead of ${spokenDuration(planned)}.`,
            spot: { part: "knob", turned: way },
            displays: displays.map((display) => ({ scenario: display, disorder: {} })),
          },
        ];
  const shortest = Math.min(...down.map(({ step }) => step));
  const longest = Math.max(...up.map(({ step }) => step));
  return [
    ...fault("short", `they last as little as ${spokenDuration(shortest)}`, [...flicker, ...seen]),
    ...fault("long",
      longest === Infinity ? "they last longer, or the timer stops altogether," : `they last up to ${spokenDuration(longest)}`,
      up.map(({ display }) => display)),
  ];
}

/** A knob whose wiper has lost the track: the whole of it is in circuit, wherever the knob stands. */
export function dirtyTrack(scenario: Scenario, wiring: readonly BoardWiring[], b: number): PossibleFault[] {
  const board = scenario.boards[b]!;
  const { timer, id } = board;
  if (timer.kind !== "astable" || timer.trimmer === null) return [];
  const whole = withBoard(scenario, b, { ...board, timer: { ...timer, trimmer: { ...timer.trimmer, setting: { kind: "dial", dial: 1 } } } });
  const step = boardTimes(whole)[b]!.stepSeconds;
  const what = `The wiper of the knob of board ${id} does not touch its track ` +
    `(dirt, wear): the whole track is in circuit wherever the knob stands`;
  const fault = { kind: "track-open", where: "track of the knob", spot: { part: "track" } } as const;
  if (step === Infinity) return standing(scenario, wiring, b, [{ ...fault, text: `${what}, and ` +
    `the timer stops.` }], standingAt(scenario, wiring, b));
  return [{ ...fault, board: id, text: `${what}: steps last ${spokenDuration(step)} instead of ` +
    `${spokenDuration(boardTimes(scenario)[b]!.stepSeconds)}.`, displays: [{ scenario: whole, disorder: {} }] }];
}
