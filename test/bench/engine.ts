import { simulator } from "../../sim/engine/simulate.js";
import { houseFigures, litFigures, zoneFigures } from "../../sim/figures/houses.js";
import { totals } from "../../sim/figures/totals.js";
import { figures, parseScenario, simulate, type SceneRecord } from "../../sim/index.js";
import { EIGHT_RINGS, EIGHT_STEPS, eightBoardsFor, manyBoards, paces, ringOfEight, THREE_STEPS, threeBoardsFor } from "./displays.js";
import { eightBoards, threeBoards, threeBoardsQueued, type Shown } from "./handwritten.js";
import { assertWork, medianSeconds, Paired, row } from "./measure.js";

const DAY = 86_400e6;
const JITTER = "0.5 %";

const parsed = (text: string): ReturnType<typeof parseScenario> => parseScenario(text, "bench.yaml");

/** Clock pulses of boards with such steps in seconds, in so many days; with jitter about so many. */
function pulsesIn(steps: readonly number[], days: number): number {
  return steps.reduce((sum, step) => sum + (days * 86_400) / step, 0);
}

function pulsesOf({ boards }: SceneRecord): number {
  return boards.reduce((sum, { pulses }) => sum + pulses, 0);
}

/** The engine alone, scenes recorded, beside loops that are written by hand for the one display. */
export function benchEngine(): void {
  benchYears();
  benchPositions();
  benchMonths();
  benchSizes();
}

/** Three jittering boards for ten years. */
function benchYears(): void {
  const days = 3650;
  const scenario = parsed(threeBoardsFor(days, JITTER));
  const pulses = pulsesIn(THREE_STEPS, days);
  const room = Math.ceil(1.01 * pulses) + 64;
  const byHand = (): Shown => threeBoards(THREE_STEPS, days * DAY, room);
  const queued = (): Shown => threeBoardsQueued(THREE_STEPS, days * DAY, room);
  for (const loop of [byHand, queued]) assertSame(simulate(scenario), loop());
  const times = new Paired({ engine: () => simulate(scenario), byHand, queued });
  row("W1: three jittering boards, ten years", (times.seconds("engine") / pulses) * 1e9, "ns/pulse", {});
  row("  by hand", (times.seconds("byHand") / pulses) * 1e9, "ns/pulse", {});
  row("  its time over that of a loop by hand", times.ratio("engine", "byHand"), "", { atMost: 2 });
  row("  time of a general event queue over its time", times.ratio("queued", "engine"), "", { atLeast: 1.5 });
}

/** Eight boards without jitter for three years, 25 million joint positions: what counts is finding scenes. */
function benchPositions(): void {
  const days = 3 * 365;
  const scenario = parsed(eightBoardsFor(days));
  const pulses = pulsesIn(EIGHT_STEPS, days);
  const patterns = EIGHT_RINGS.map((steps) => ringOfEight(steps).map((lit) => lit.reduce((bits, house) => bits | (1 << house), 0)));
  const byHand = (): Shown => eightBoards(EIGHT_STEPS, patterns, days * DAY, Math.ceil(pulses) + 64);
  assertSame(simulate(scenario), byHand());
  const times = new Paired({ engine: () => simulate(scenario), byHand });
  row("W2: eight boards, 25 million joint positions", (times.seconds("engine") / pulses) * 1e9, "ns/pulse", {});
  row("  by hand", (times.seconds("byHand") / pulses) * 1e9, "ns/pulse", {});
  row("  its time over that of a loop by hand", times.ratio("engine", "byHand"), "", { atMost: 1.2 });
}

/** Runs of a month that are timed together. */
const MONTHS = 100;

/** Many runs of a month, as a spread makes them: what each of them needs of its own counts. */
function benchMonths(): void {
  const days = 30;
  const month = parsed(threeBoardsFor(days, JITTER));
  const run = simulator(month);
  const pulses = MONTHS * pulsesIn(THREE_STEPS, days);
  const room = Math.ceil((1.01 * pulses) / MONTHS) + 64;
  const byHand = (): Shown => threeBoards(THREE_STEPS, days * DAY, room);
  assertSame(simulate(month), byHand());
  const many = (work: () => unknown) => (): void => {
    for (let i = 0; i < MONTHS; i++) work();
  };
  const times = new Paired({ engine: many(run), byHand: many(byHand) });
  row("W3: three jittering boards, a month, many builds", (times.seconds("engine") / pulses) * 1e9, "ns/pulse", {});
  row("  by hand", (times.seconds("byHand") / pulses) * 1e9, "ns/pulse", {});
  row("  its time over that of a loop by hand", times.ratio("engine", "byHand"), "", { atMost: 1.6 });
}

/** Displays of many boards. */
function benchSizes(): void {
  for (const [boards, houses, days, atMost] of [[16, 10, 30, 0.5], [64, 10, 7, 0.8], [490, 2, 1, 4]] as const) {
    const scenario = parsed(manyBoards(boards, houses, days));
    const pulses = pulsesOf(simulate(scenario));
    assertWork("pulses", pulses, pulsesIn(paces(boards), days), 0.005 * pulses);
    row(`${boards} boards`, (medianSeconds(() => simulate(scenario)) / pulses) * 1e6, "µs/pulse", { atMost });
  }
}

/** Figures of houses, for which it counts how many houses there are, and all figures of a record. */
export function benchFigures(): void {
  for (const [text, what, atMost] of [
    [threeBoardsFor(365, JITTER), "24 houses on 3 boards", 100],
    [manyBoards(12, 2, 60), "24 houses on 12 boards", 100],
    [manyBoards(100, 10, 2), "1,000 houses on 100 boards", 250],
    [manyBoards(500, 2, 1), "1,000 houses on 500 boards", 250],
  ] as const) {
    const record = simulate(parsed(text));
    const sums = totals(record);
    const each = (work: () => unknown): number => (medianSeconds(work) / record.spellStart.length) * 1e9;
    const ofHouses = (): unknown => [houseFigures(record, sums), zoneFigures(record, sums), litFigures(record, sums)];
    row(`figures of houses: ${what}`, each(ofHouses), "ns/spell", { atMost });
    row("  all figures", each(() => figures(record)), "ns/spell", {});
  }
}

/** That a loop by hand did the same work: as many spells and scenes, the last spell at the same moment, the same houses lit. */
function assertSame(wanted: SceneRecord, { spells, scenes, start, masks }: Shown): void {
  // the record begins a spell anew at each midnight, where there may be a pulse, too
  const midnights = wanted.openings.length - 1 - start.subarray(1, spells).filter((t) => t % DAY === 0).length;
  assertWork("spells of the loop by hand", spells, wanted.spellStart.length - midnights, 0);
  assertWork("start of its last spell", start[spells - 1]!, wanted.spellStart.at(-1)!, 0);
  assertWork("its scenes", scenes, wanted.scenes.length, 0);
  if (masks?.subarray(0, 2 * scenes).some((word, i) => word !== wanted.scenes.masks[i])) throw new Error("its scenes are others");
}
