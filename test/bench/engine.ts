import { parseScenario, simulate, type Scenario } from "../../sim/index.js";
import { assertWork, medianSeconds, row } from "./measure.js";

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
}
