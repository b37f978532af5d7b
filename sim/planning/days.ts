import type { SceneRecord } from "../engine/record.js";
import { simulate } from "../engine/simulate.js";
import { dayBeforeFigures } from "../figures/daybefore.js";
import { timeline } from "../figures/timeline.js";
import type { Board, Scenario } from "../model/scenario.js";
import { listed, percent } from "../units/text.js";

/** Days are alike: at their beginning, or altogether. */
export interface DayAdvice<Kind> {
  readonly kind: Kind;
  readonly text: string;
  readonly firstHourShare: number;
  readonly restShare: number;
}

/** Days that are the day before over again. */
export interface SameDays extends DayAdvice<"same-days"> {
  /** Share of the whole day that shows what was shown at that time the day before. */
  readonly share: number;
  /** The same, simulated with a jitter of 0.3 % on every timer; null where some jitter is given. */
  readonly jittered: number | null;
  /** What was found, and under which condition; `text` also says what to write into the file. */
  readonly found: string;
}

/** Share of a day from which on it counts as the day before over again. Judgement, no source. */
const SAME = 0.5;
/** Share by which the first hour is more like the day before than the rest, to be worth a word. Judgement, no source. */
const DAY_START = 0.1;
/** A jitter that an RC timer easily has. Judgement, no source. */
const LITTLE = 0.003;

/** Worked out once for a record, with what it takes to simulate it with jitter: verdicts and advice both ask for it. */
const known = new WeakMap<SceneRecord, SameDays | null>();

/** Whether every day runs like the day before, and what would change that; null where days differ, or there is only one. */
export function sameDays(record: SceneRecord): SameDays | null {
  const before = known.get(record);
  if (before !== undefined) return before;
  const found = findSameDays(record);
  known.set(record, found);
  return found;
}

function findSameDays(record: SceneRecord): SameDays | null {
  const { firstHourShare, restShare, share } = dayBeforeFigures(timeline(record));
  if (firstHourShare === null || restShare === null || share === null || Math.min(firstHourShare, restShare) < SAME) return null;
  const { scenario, build } = record;
  const given = scenario.boards.some(({ timer }) => timer.kind !== "carry" && timer.jitter > 0);
  const jittered = given || !scenario.boards.some(isLoose) ? null : dayBeforeFigures(timeline(simulate(withJitter(scenario), { build }))).share;
  const what = share === 1
    ? "Every day shows exactly what the day before showed"
    : `Every day shows what the day before showed for ${percent(share)} of the time`;
  const less = jittered === null ? "" : `; with a jitter of ${percent(LITTLE)} it would do so for ${percent(jittered)} of the time`;
  const found = `${what}: so it is with ${condition(scenario, given)}${less}.`;
  return { kind: "same-days", firstHourShare, restShare, share, jittered, found, text: `${found} ${remedyFor(scenario)}` };
}

function condition({ opening: { overnight } }: Scenario, given: boolean): string {
  const restart = overnight ? "boards that run through the night" : "boards that restart each morning";
  return `${restart} and ${given ? "the jitter that is given" : "no jitter given"}`;
}

/** Whether a timer is of the kind whose steps are never quite equal. */
function isLoose({ timer }: Board): boolean {
  return timer.kind === "astable" || timer.kind === "measured";
}

function withJitter(scenario: Scenario): Scenario {
  const boards = scenario.boards.map((board): Board => {
    return isLoose(board) ? { ...board, timer: { ...board.timer, jitter: LITTLE } as Board["timer"] } : board;
  });
  return { ...scenario, boards };
}

function remedyFor({ opening: { overnight }, boards }: Scenario): string {
  if (overnight) return "The boards' cycles fit into a day; other step times would change that.";
  const steady = boards.some(({ counter }) => counter.powerUp !== "anywhere");
  const lines = ["`overnight: on` in opening", ...(steady ? ["`powerUp: anywhere` in a counter that has no power-on reset"] : [])];
  const jitter = boards.some(isLoose) ? "; where you know the jitter of a timer, from fit, write `jitter` into it" : "";
  return `To make days differ, build it so and write ${listed(lines, "or")}${jitter}.`;
}

/** What there is to say of days that are alike, at their beginning or altogether. */
export function dayAdvice(record: SceneRecord): (SameDays | DayAdvice<"day-start">)[] {
  const same = sameDays(record);
  if (same !== null) return [same];
  const { firstHourShare, restShare } = dayBeforeFigures(timeline(record));
  const { overnight } = record.scenario.opening;
  if (firstHourShare === null || restShare === null || overnight || firstHourShare < restShare + DAY_START) return [];
  return [
    {
      kind: "day-start",
      firstHourShare,
      restShare,
      text:
        "The boards are switched on together, so each day begins much like the day before: the scene is that of the same time of the " +
        `day before for ${percent(firstHourShare)} of the first hour and ${percent(restShare)} of the rest. Boards that run through ` +
        "the night, or that power up at any step, do not begin alike.",
    },
  ];
}
