import * as z from "zod/mini";
import { count, figureUnit, id, kept, lampdrift, number, promiseKind, quantiles, seconds, share, text, told, truth } from "./vocabulary.js";

const extremes = z.strictObject({
  min: z.nullable(seconds("least; null where a timer stalls")),
  max: z.nullable(seconds("most; null where a timer stalls")),
});

export const spread = z.strictObject({
  lampdrift,
  builds: count("builds simulated"),
  partial: truth("true where the work was ended early"),
  stalled: count("builds in which a timer never clocks; they keep no promise and have no figures"),
  unreachable: count("builds in which a knob does not reach its setting"),
  boards: z.array(
    z.strictObject({
      id: id("the board"),
      step: z.nullable(told(z.strictObject(quantiles), "step time over the builds, seconds at the room's mean temperature")),
      stepsDrawn: told(z.array(seconds("step time")), "of every build that does not stall, in order of build"),
      sources: z.strictObject({
        id: id("the board"),
        nominal: seconds("step time at nominal values"),
        worstCase: told(extremes, "over all corners of tolerance"),
        rootSumSquare: told(extremes, "nominal less and plus the root of the sum of squares"),
        parts: z.array(z.strictObject({ part: text("part of the timer"), share: share("its share in the variance of the step time") })),
      }),
    }),
  ),
  figures: told(
    z.record(z.string(), z.nullable(z.strictObject({ ...quantiles, unit: figureUnit }))),
    "by the place of the figure in the output of run, such as scenes.effective; null where no build has it",
  ),
  promises: z.array(z.strictObject({ promise: promiseKind, text: text("the promise in words"), ...kept })),
  allKept: z.nullable(told(z.strictObject(kept), "all promises at once; null where none is made")),
  curve: z.nullable(
    told(
      z.array(z.strictObject({ afterSeconds: seconds("return time"), ...quantiles, p50: number("median over the builds") })),
      "curve of returns over the builds, where it was asked for",
    ),
  ),
});
