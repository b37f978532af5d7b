import type { StepExtreme } from "../../steptimes/index.js";
import { plain, spokenDuration } from "../../units/text.js";
import { range, time, valueText } from "../printing.js";
import type { PromiseKind } from "./kind.js";
import { endOf, within } from "./limits.js";

/**
 * Every step of every board after the first, over all room temperatures and all powered hours of the run, whether or not
 * a step happens to start then.
 */
export const step: PromiseKind<"step"> = {
  unit: "s",
  needs: "steps",
  text: (promised) => `every step after the first lasts ${range(promised, time)}`,
  limit: endOf,
  judge(promised, { steps }) {
    const shortest = Math.min(...steps.map((board) => board.shortest.seconds));
    const longest = Math.max(...steps.map((board) => board.longest.seconds));
    return within(promised, shortest, longest);
  },
  firstBreak({ from, to }, { steps }) {
    const slowest = steps.reduce((a, b) => (b.longest.seconds > a.longest.seconds ? b : a));
    const fastest = steps.reduce((a, b) => (b.shortest.seconds < a.shortest.seconds ? b : a));
    const { value, limit } = within({ from, to }, fastest.shortest.seconds, slowest.longest.seconds);
    const { id, longest, shortest } = value === slowest.longest.seconds && limit === to ? slowest : fastest;
    return { at: null, what: `board ${id}: ${stepText(limit === to ? longest : shortest, limit)}` };
  },
};

/** "4 min 2 s at 19 °C after 210 h of power". */
function stepText({ seconds, theta, hours }: StepExtreme, limit: number): string {
  const warmth = theta === null ? "" : ` at ${plain(theta, 3)} °C`;
  const age = hours === null ? "" : ` after ${spokenDuration(hours * 3600)} of power`;
  return `${valueText(seconds, limit, "s")}${warmth}${age}`;
}
