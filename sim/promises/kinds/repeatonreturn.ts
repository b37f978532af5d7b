import { percent } from "../../units/text.js";
import { time } from "../printing.js";
import type { PromiseKind } from "./kind.js";
import { atMost } from "./limits.js";
import { toMicros } from "../../units/time.js";

/** How often whoever comes back meets the same scene; kept where the display is never open both times. */
export const repeatOnReturn: PromiseKind<"repeatOnReturn"> = {
  unit: "share",
  needs: "record",
  text: (promised) => `whoever comes back after ${time(promised.after)} meets the same scene at most ${percent(promised.atMost)} ` +
    "of the time",
  limit: (promised) => promised.atMost,
  judge: (promised, { measures }) => atMost(promised.atMost, measures.repeatAfter(toMicros(promised.after))),
  firstBreak: () => null,
};
