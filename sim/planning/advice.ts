import type { SceneRecord } from "../engine/record.js";
import type { Figures } from "../figures/index.js";
import { otherStepAdvice, type NoOtherStepAdvice, type OtherStepAdvice } from "./othersteps.js";
import { percent, plain, spokenDuration } from "../units/text.js";
import { dayAdvice, type DayAdvice, type SameDays } from "./days.js";
import { echoAdvice, type EchoAdvice, type OneClockAdvice } from "./echoes.js";
import type { Seconds } from "../units/time.js";

/** Something to change about a display, in words and with the numbers behind them. */
export type Advice =
  | EchoAdvice
  | OneClockAdvice
  | OtherStepAdvice
  | NoOtherStepAdvice
  | DayAdvice<"day-start">
  | SameDays
  | { readonly kind: "few-scenes"; readonly text: string; readonly effective: number; readonly distinct: number }
  | { readonly kind: "unused-scenes"; readonly text: string; readonly distinct: number; readonly combinations: number }
  | { readonly kind: "repeat-in-stay"; readonly text: string; readonly staySeconds: Seconds; readonly share: number };

/** From where on something is worth a word. Judgement, no source. */
const NOTICEABLE = {
  /** Effective number of scenes. */
  fewScenes: 10,
  /** Share of the possible scenes that is shown in a run with many changes for each of them. */
  unusedScenes: 0.5,
  changesPerScene: 4,
  /** Share of visitors who see a scene come back. */
  repeatInStay: 0.25,
};

/**
 * What the figures of a record suggest to change, the return times first. Empty when there is nothing to say.
 * Seconds, and shares 0 … 1; `text` says it in words. Throws nothing.
 *
 * @example
 * ```ts
 * import { advise, figures, readScenario, simulate } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * const record = simulate(scenario);
 * const kinds = advise(record, figures(record)).map(({ kind }) => kind);
 * console.log(kinds.length > 0); // true
 * ```
 */
export function advise(record: SceneRecord, found: Figures): Advice[] {
  const echoes = echoAdvice(record.scenario, found.repeat.echoes);
  const clocks = echoes.flatMap((echo) => (echo.kind === "echo" ? (echo.pair?.boards ?? []) : []).map(({ clock }) => clock));
  return [
    ...echoes,
    ...otherStepAdvice(record, [...new Set(clocks)]),
    ...dayAdvice(record),
    ...sceneAdvice(found.scenes),
    ...stayAdvice(found.visit),
  ];
}

function sceneAdvice({ effective, distinct, combinations, changes }: Figures["scenes"]): Advice[] {
  const advice: Advice[] = [];
  if (effective < NOTICEABLE.fewScenes) {
    advice.push({
      kind: "few-scenes",
      effective,
      distinct,
      text:
        `Few different scenes: the display is as varied as ${plain(effective, 3)} scenes that are all shown equally ` +
        `long. More steps, or another board with a timer of its own, would give more.`,
    });
  }
  if (
    combinations !== null &&
    changes >= NOTICEABLE.changesPerScene * combinations &&
    distinct < NOTICEABLE.unusedScenes * combinations
  ) {
    advice.push({
      kind: "unused-scenes",
      distinct,
      combinations,
      text:
        `Of ${combinations} possible scenes only ${distinct} are ever shown, although the scene changes ${changes} ` +
        `times: the boards keep meeting at the same steps.`,
    });
  }
  return advice;
}

function stayAdvice({ staySeconds, repeatShare }: Figures["visit"]): Advice[] {
  if (repeatShare === null || repeatShare < NOTICEABLE.repeatInStay) return [];
  return [
    {
      kind: "repeat-in-stay",
      staySeconds,
      share: repeatShare,
      text:
        `${percent(repeatShare)} of the visitors who stay ${spokenDuration(staySeconds)} see a scene come back before ` +
        `they leave. Longer steps, or more of them, would make that rarer.`,
    },
  ];
}
