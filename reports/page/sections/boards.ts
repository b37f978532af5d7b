import { plain, spokenDuration } from "../../../sim/units/text.js";
import { counterInWords, timerInWords } from "../../words.js";
import { right, table, type MakeSection } from "../section.js";

/** The boards and their step times. */
export const boards: MakeSection = ({ scenario, figures }) => ({
  id: "boards",
  heading: "The boards",
  body: table(
    ["board", "timer", "counter", right("step"), right("first step"), right("cycle"), right("clock pulses")],
    figures.boards.map(({ id, stepSeconds, firstStepSeconds, cycleSeconds, pulses }, b) => [
      id,
      timerInWords(scenario.boards[b]!.timer, scenario.boards),
      counterInWords(scenario.boards[b]!.counter),
      spokenDuration(stepSeconds),
      spokenDuration(firstStepSeconds),
      spokenDuration(cycleSeconds),
      plain(pulses, 9),
    ]),
    (b) => `boards[${b}]`,
  ),
});
