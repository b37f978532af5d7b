import * as z from "zod/mini";
import { count, id, lampdrift, number, ordinal, seconds, text, told, truth } from "./vocabulary.js";

const range = z.strictObject({ from: seconds("shortest"), to: seconds("longest") });

export const fit = z.strictObject({
  lampdrift,
  boards: z.array(
    z.strictObject({
      id: id("the board"),
      stepSeconds: seconds("step time at the middle of the log"),
      low: number("lower end of its 95 % interval, seconds"),
      high: number("upper end of it, seconds"),
      jitterSeconds: seconds("standard deviation of one step"),
      jitterLow: seconds("lower end of its 95 % interval; 0 where it may be all reading error"),
      jitterHigh: seconds("upper end of it"),
      readingSeconds: seconds("standard deviation of one reading of the stopwatch"),
      driftPerHour: z.nullable(number("relative growth of the step in an hour; null where the log is too short to tell")),
      driftLow: z.nullable(number("lower end of its 95 % interval")),
      driftHigh: z.nullable(number("upper end of it")),
      missed: count("changes between the rows that were not noted"),
      observations: count("rows of the log"),
      slips: told(
        z.array(z.strictObject({ line: ordinal("line of the log"), offSeconds: number("seconds noted late, or early where negative") })),
        "rows that are left out as slips",
      ),
      oddLines: told(z.array(ordinal("line of the log")), "rows that end an interval of no whole number of steps"),
      steps: count("steps from the first row to the last"),
      stepsNeeded: z.nullable(count("steps to be watched in all for the precision asked for")),
      timer: text("as it may stand in a scenario file"),
      residuals: z.array(
        z.strictObject({
          line: ordinal("line of the log"),
          atSeconds: number("when, seconds"),
          residualSeconds: number("how far the row lies from equal steps, seconds"),
          missed: count("changes missed just before it"),
          anew: truth("true where counting begins anew after an odd interval"),
        }),
      ),
      scenario: z.optional(
        told(
          z.strictObject({
            id: id("the board"),
            planned: told(range, "step times as planned, whatever the parts"),
            possible: z.nullable(told(range, "step times wherever the knob stands; null without a knob")),
            verdict: told(z.enum(["as planned", "knob", "parts"]), "what explains the step time"),
            multiple: z.nullable(count("2 or 3 where the step is so many times the planned one")),
          }),
          "against the scenario that was named",
        ),
      ),
    }),
  ),
});
