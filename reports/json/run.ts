import * as z from "zod/mini";
import { amount, count, id, lampdrift, number, promiseKind, scenario, seconds, share, text, told, truth } from "./vocabulary.js";

const returned = z.strictObject({
  afterSeconds: seconds("return time"),
  share: z.nullable(share("of the moments open both times, those that show one scene both times")),
});

const figures = {
  observed: z.strictObject({ seconds: seconds("open time in all"), days: count("openings") }),
  boards: z.array(
    z.strictObject({
      id: id("the board"),
      steps: count("steps of its counter"),
      stepSeconds: z.nullable(seconds("one step, at the room's mean temperature; null in a build whose timer stalls")),
      firstStepSeconds: z.nullable(seconds("the first step after switch-on; null likewise")),
      cycleSeconds: z.nullable(seconds("all steps once round; null likewise")),
      pulses: count("clock pulses while powered"),
    }),
  ),
  scenes: z.strictObject({
    distinct: count("scenes shown; nothing lit is a scene too"),
    combinations: z.nullable(count("different scenes over all combinations of counter positions; null above 1,000,000 combinations")),
    changes: count("scene changes inside openings"),
    changesPerHour: amount("scene changes in an hour of open time"),
    sameAtRandom: share("two glances at random show the same scene"),
    effective: amount("effective number of scenes, Hill number of order 2"),
    even: amount("Hill number of order 1"),
    shortestSeconds: seconds("shortest spell"),
    medianSeconds: seconds("median spell, each counted once"),
    longestSeconds: seconds("longest spell"),
  }),
  houses: z.array(
    z.strictObject({
      id: id("the house"),
      litShare: share("open time for which it is lit"),
      lightings: count("changes from dark to lit inside openings"),
      longestDarkSeconds: seconds("longest dark stretch within one opening"),
      longestLitSeconds: seconds("longest lit stretch within one opening"),
    }),
  ),
  zones: z.array(z.strictObject({ zone: text("name of the zone"), litShare: share("open time with at least one of its houses lit") })),
  lit: z.strictObject({
    min: count("fewest houses lit at once"),
    max: count("most houses lit at once"),
    mean: amount("houses lit at once, mean over the open time"),
    shares: told(z.array(share("open time with so many houses lit")), "by the number of houses lit, from 0"),
  }),
  repeat: z.strictObject({
    returns: told(z.array(returned), "at the return times of the scenario"),
    curve: told(z.array(returned), "every 15 s up to 3 h"),
    echoes: told(
      z.array(z.strictObject({ afterSeconds: seconds("return time"), share: share("the same scene again") })),
      "return times after which a visitor meets the same scene unusually often",
    ),
  }),
  visit: z.strictObject({
    staySeconds: seconds("how long a visitor stays"),
    distinctScenes: z.nullable(amount("different scenes seen, mean over arrivals; null where no opening is so long")),
    changesSeen: z.nullable(amount("scene changes seen, mean over arrivals")),
    repeatShare: z.nullable(share("arrivals who see a scene come back before they leave")),
    repeatCurve: told(
      z.array(z.strictObject({ staySeconds: seconds("stay"), share: z.nullable(share("who see a scene come back")) })),
      "the same for stays of 1 min, 2 min … 2 h",
    ),
  }),
  anyHour: z.strictObject({ fewestScenes: z.nullable(count("fewest different scenes in any 60 min; null where openings are shorter")) }),
};

export const promiseResult = z.strictObject({
  promise: promiseKind,
  text: text("the promise in words"),
  value: z.nullable(number("the worst found, in unit; null where there was nothing to look at")),
  limit: number("what the value is held against"),
  unit: z.enum(["s", "houses", "scenes", "share"]),
  kept: truth("whether the promise is kept"),
  where: z.nullable(
    told(
      z.strictObject({ at: z.nullable(count("microseconds since Monday 00:00")), what: text("in words") }),
      "where a broken promise is at its worst, or broken first",
    ),
  ),
});

const rating = z.strictObject({
  what: text("what is rated"),
  where: text("which one"),
  value: number("in unit"),
  limit: number("in unit"),
  unit: text("unit of value and limit"),
  share: told(z.number().check(z.gte(0), z.lte(1000)), "how much of the limit is used, 1 being all of it"),
  verdict: told(z.enum(["within", "close", "over"]), "within: up to 0.8 of the limit; close: up to the limit; over: beyond"),
  source: text("where the limit comes from"),
  worst: z.nullable(
    told(
      z.strictObject({ at: count("microseconds since Monday 00:00"), houses: z.array(id("a house then lit")) }),
      "the moment that asks most",
    ),
  ),
  advice: z.nullable(text("what would help")),
});

/** Ratings and promises of the nominal build. */
export const verdicts = { promises: z.array(promiseResult), ratings: z.array(rating) };

export const run = z.strictObject({ lampdrift, scenario, ...figures, promises: verdicts.promises });
export const check = z.strictObject({ lampdrift, scenario, ...figures, ...verdicts });
