import { percent } from "../../units/text.js";
import { time } from "../printing.js";
import type { PromiseKind } from "./kind.js";
import { atMost } from "./limits.js";
import { toMicros } from "../../units/time.js";

/** How many of those who stay see a scene come back; kept where no opening is so long. */
export const repeatWithinStay: PromiseKind<"repeatWithinStay"> = {
  unit: "share",
  needs: "record",
  text: (promised) => `at most ${percent(promised.atMost)} of visitors who stay ${time(promised.stay)} see a scene come back`,
  limit: (promised) => promised.atMost,
  judge: (promised, { measures }) => atMost(promised.atMost, measures.repeatWithin(toMicros(promised.stay))),
  firstBreak: () => null,
};
