import * as z from "zod/mini";
import { compare } from "./compare.js";
import { promiseResult } from "./run.js";
import { amount, count, id, lampdrift, number, seconds, share, told, truth } from "./vocabulary.js";

const parts = z.strictObject({
  evenness: amount("how far the houses of a zone are from equally lit, a standard deviation"),
  swing: share("from the fewest to the most houses lit at once"),
  dark: seconds("longest time for which a zone is wholly dark"),
  together: share("how often a house and its nearest neighbour change at once"),
  wire: amount("straight distances from the boards to their houses, in units of at"),
  sameAtRandom: share("two glances show the same scene"),
});

const judged = z.strictObject({
  score: number("weighted mean of the parts"),
  parts,
  promisesBroken: count("promises broken"),
  ratingsOver: count("ratings over their limit"),
  wishesBroken: count("wishes not kept"),
});

export const arrange = z.strictObject({
  lampdrift,
  before: judged,
  after: told(judged, "the best that was found"),
  least: told(parts, "the lowest that each part could be"),
  tries: count("changes tried"),
  outputs: told(
    z.record(z.string(), z.record(z.string(), z.array(id("a house")))),
    "houses by id of the board and number of the output",
  ),
  promises: z.array(promiseResult),
  stopped: truth("whether Ctrl-C ended the search early"),
  bought: z.nullable(told(compare.shape.differences, "what an added board changes; null without one")),
});
