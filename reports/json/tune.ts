import * as z from "zod/mini";
import { amount, count, id, kept, lampdrift, seconds, share, text, told, truth } from "./vocabulary.js";

const setting = z.strictObject({
  score: amount("mean share of the same scene over the return times, plus the repeat share of a stay; lower is better"),
  meanReturn: share("the same scene again, mean over the return times"),
  stayRepeat: share("visitors who see a scene come back during their stay"),
  worstEcho: share("the highest point of the mean curve after its first fall"),
  chance: share("two glances at random show the same scene"),
  unreachable: count("builds in which a knob does not reach its setting"),
  stalled: count("builds in which a timer stalls"),
  promises: z.array(z.strictObject({ promise: text("key of the promise"), text: text("the promise in words"), ...kept })),
  boards: told(
    z.record(z.string(), z.strictObject({ stepSeconds: seconds("step time"), dial: share("where the knob stands with nominal parts") })),
    "by id of the board",
  ),
  readingCost: told(z.number(), "by how much the closed form rises when the worst knob is off by the reading error"),
});

const axis = z.strictObject({
  id: id("the board"),
  values: told(z.array(seconds("step time")), "step times along the axis"),
  best: seconds("step time of the best setting"),
  present: seconds("step time of the present setting"),
});

export const tune = z.strictObject({
  lampdrift,
  settings: told(z.array(setting), "best first"),
  present: z.nullable(told(setting, "the setting of the file; null where it stalls")),
  calmer: z.nullable(count("index of a setting with a much lower worst echo for little more score")),
  builds: count("builds that the settings were tried on; 0: nominal parts alone, since the work was stopped before"),
  stopped: truth("whether Ctrl-C ended the work early: the settings are the best so far"),
  longestReturn: seconds("longest return time of the score"),
  looked: told(
    z.array(
      z.strictObject({
        id: id("a board whose knob was free"),
        from: seconds("shortest step time that was looked at"),
        to: seconds("longest"),
        paced: truth("whether half or twice the present step is an end, since neither a promise nor --between is"),
      }),
    ),
    "the step times that were looked at",
  ),
  advice: z.array(
    z.strictObject({
      id: id("a measured board"),
      stepSeconds: seconds("its step time"),
      betterSeconds: seconds("the step time that would help most"),
      score: amount("mean repeat share by the closed form"),
      betterScore: amount("the same with the better step time"),
    }),
  ),
  map: z.strictObject({
    x: axis,
    y: z.nullable(axis),
    scores: told(z.array(z.array(amount("score by the closed form"))), "a row for each value of y"),
  }),
});
