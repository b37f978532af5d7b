import * as z from "zod/mini";
import { FAULT_KINDS } from "../../sim/faults/kinds.js";
import { count, id, lampdrift, seconds, text, told, truth } from "./vocabulary.js";

export const fault = z.strictObject({
  lampdrift,
  watchedSeconds: seconds("how long one looked, from switch-on; if not said, until every board has gone round, at most one opening"),
  watchedKnown: truth("whether it was said how long one looked"),
  healthy: truth("whether a display in order would show all of it, too"),
  left: count("possibilities that are left: those with the fewest contradictions"),
  cautions: told(z.array(z.string()), "what was seen that may be chance, in sentences"),
  candidates: told(
    z.array(
      z.strictObject({
        faults: told(
          z.array(
            z.strictObject({
              kind: z.enum(FAULT_KINDS),
              board: z.nullable(id("the board that has it; null: the whole display")),
              where: text("place on the board"),
              text: text("the fault and what hides it"),
            }),
          ),
          "faults that look the same",
        ),
        fits: told(z.array(z.string()), "observations that agree"),
        against: told(z.array(z.string()), "observations that do not agree, then what would be seen too and was not reported"),
      }),
    ),
    "best first",
  ),
  next: z.nullable(
    told(
      z.strictObject({
        house: id("the house to look at"),
        seconds: seconds("after switch-on"),
        look: told(
          z.enum(["moment", "times", "throughout", "pace"]),
          "moment: is it lit then? times: how often does it come on until then? throughout: does it stay dark or lit, or change? " +
            "pace: do the houses of board change as often as they should?",
        ),
        board: z.nullable(id("the board whose pace is watched")),
        whileLit: z.nullable(id("the house that must be lit for a look to count")),
        certain: truth("false where it holds only if boards woke as in the simulation"),
      }),
      "what to look at next",
    ),
  ),
});
