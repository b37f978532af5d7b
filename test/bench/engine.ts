import { parseScenario, simulate, type Scenario } from "../../sim/index.js";
import { threeBoards, threeBoardsQueued } from "./handwritten.js";
import { assertWork, medianSeconds, pairedRatio, row } from "./measure.js";

const YEARS = 10;
const STEPS = [170, 130, 220];

/** Three boards of ten steps and eight houses each, running day and night for ten years. */
export function tenYears(jitter: string): string {
  const letters = ["a", "b", "c"];
  const houses = letters.flatMap((letter) => Array.from({ length: 8 }, (_, i) => `  ${letter}${i}:`));
  const boards = letters.map((letter, b) => {
    const outputs = Array.from({ length: 10 }, (_, i) => `${i}: ${i < 8 ? `${letter}${i}` : `[${letter}${i - 8}, ${letter}${i - 4}]`}`);
    return `  ${letter}: { timer: { kind: quartz, step: ${STEPS[b]} s, jitter: ${jitter} }, counter: { kind: ring, steps: 10 }, outputs: { ${outputs.join(", ")} } }`;
  });
  return [
    "lampdrift: 1",
    "title: Ten years",
    `opening: { overnight: on, run: ${YEARS * 365} }`,
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
  const steps = STEPS as [number, number, number];
  const room = Math.ceil(1.01 * exact) + 64;
  const wanted = simulate(decade);
  for (const loop of [threeBoards(steps, seconds * 1e6, room), threeBoardsQueued(steps, seconds * 1e6, room)]) {
    // the record begins a spell anew at each midnight
    assertWork("spells of the loop by hand", loop.spells, wanted.spellStart.length - (wanted.openings.length - 1), 0);
    assertWork("start of its last spell", loop.start[loop.spells - 1]!, wanted.spellStart.at(-1)!, 0);
  }
  const byHand = pairedRatio(7, () => simulate(decade), () => threeBoards(steps, seconds * 1e6, room));
  row("  its time over that of a loop by hand", byHand, "", { atMost: 2 });
  const queued = pairedRatio(7, () => threeBoardsQueued(steps, seconds * 1e6, room), () => simulate(decade));
  row("  time of a general event queue over its time", queued, "", { atLeast: 1.5 });
}
