import { simulator } from "../../sim/engine/simulate.js";
import { parseScenario, simulate, type Scenario } from "../../sim/index.js";
import { threeBoards, threeBoardsQueued, type Shown } from "./handwritten.js";
import { assertWork, medianSeconds, pairedRatio, row } from "./measure.js";

const YEARS = 10;
const STEPS = [170, 130, 220] as const;
/** Runs of a month that are timed together. */
const MONTHS = 100;

/** Three boards of ten steps and eight houses each, running day and night for ten years, or for so many days. */
export function tenYears(jitter: string, days = YEARS * 365): string {
  const letters = ["a", "b", "c"];
  const houses = letters.flatMap((letter) => Array.from({ length: 8 }, (_, i) => `  ${letter}${i}:`));
  const boards = letters.map((letter, b) => {
    const outputs = Array.from({ length: 10 }, (_, i) => `${i}: ${i < 8 ? `${letter}${i}` : `[${letter}${i - 8}, ${letter}${i - 4}]`}`);
    return `  ${letter}: { timer: { kind: quartz, step: ${STEPS[b]} s, jitter: ${jitter} }, counter: { kind: ring, steps: 10 }, outputs: { ${outputs.join(", ")} } }`;
  });
  return [
    "lampdrift: 1",
    "title: Ten years",
    `opening: { overnight: on, run: ${days} }`,
    "houses:",
    ...houses,
    "boards:",
    ...boards,
  ].join("\n");
}

/** Pulses a second of the engine alone, scenes recorded. */
export function benchEngine(): void {
  const seconds = YEARS * 365 * 86_400;
  const exact = STEPS.reduce((sum, step) => sum + Math.ceil(seconds / step) - 1, 0);
  const rate = (scenario: Scenario, slack: number): number => {
    let pulses = 0;
    const median = medianSeconds(7, () => {
      const record = simulate(scenario);
      pulses = record.boards.reduce((sum, board) => sum + board.pulses, 0);
    });
    assertWork("pulses", pulses, exact, slack);
    return pulses / median / 1e6;
  };
  row("three boards, no jitter", rate(parseScenario(tenYears("0"), "ten-years.yaml"), 0), "million pulses/s", { atLeast: 15 });
  // with 0.5 % jitter the count wanders by about 0.005·√n a board
  const slack = 6 * 0.005 * Math.sqrt(exact);
  row("three boards, jitter 0.5 %", rate(parseScenario(tenYears("0.5 %"), "ten-years.yaml"), slack), "million pulses/s", { atLeast: 8 });
  const decade = parseScenario(tenYears("0.5 %"), "ten-years.yaml");
  const room = Math.ceil(1.01 * exact) + 64;
  const byHand = (): Shown => threeBoards(STEPS, seconds * 1e6, room);
  const queued = (): Shown => threeBoardsQueued(STEPS, seconds * 1e6, room);
  for (const loop of [byHand, queued]) assertSame(decade, loop());
  row("  its time over that of a loop by hand", pairedRatio(7, () => simulate(decade), byHand), "", { atMost: 2 });
  row("  time of a general event queue over its time", pairedRatio(7, queued, () => simulate(decade)), "", { atLeast: 1.5 });
  benchMonths();
}

/** Many runs of a month, as a spread makes them: what each of them needs of its own counts. */
function benchMonths(): void {
  const days = 30;
  const month = parseScenario(tenYears("0.5 %", days), "month.yaml");
  const run = simulator(month);
  const room = Math.ceil(1.01 * STEPS.reduce((sum, step) => sum + (days * 86_400) / step, 0)) + 64;
  const byHand = (): Shown => threeBoards(STEPS, days * 86_400e6, room);
  assertSame(month, byHand());
  const many = (work: () => unknown) => (): void => {
    for (let i = 0; i < MONTHS; i++) work();
  };
  row("a month, many builds, time over that of a loop by hand", pairedRatio(7, many(run), many(byHand)), "", { atMost: 1.6 });
}

/** That a loop by hand did the same work: as many spells, and the last of them at the same moment. */
function assertSame(scenario: Scenario, { spells, start }: Shown): void {
  const wanted = simulate(scenario);
  // the record begins a spell anew at each midnight
  assertWork("spells of the loop by hand", spells, wanted.spellStart.length - (wanted.openings.length - 1), 0);
  assertWork("start of its last spell", start[spells - 1]!, wanted.spellStart.at(-1)!, 0);
}
