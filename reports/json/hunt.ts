import * as z from "zod/mini";
import { count, lampdrift, number, promiseKind, text, told, truth } from "./vocabulary.js";

export const hunt = z.strictObject({
  lampdrift,
  stopped: truth("whether Ctrl-C ended the work early: there may be plainer builds, and more that break a promise"),
  promises: z.array(
    z.strictObject({
      promise: promiseKind,
      text: text("the promise in words"),
      broken: truth("whether a build that breaks it was found"),
      tries: count("builds looked at, up to the first that breaks it"),
      build: z.nullable(
        told(
          z.record(z.string(), z.number().check(z.gte(-1), z.lte(1))),
          "the plainest build that breaks it: by part, such as quay.c, its deviation as a share of its tolerance, -1 to 1",
        ),
      ),
      value: z.nullable(number("the worst found in that build")),
      limit: z.nullable(number("what it is held against")),
      sentence: text("all of it in a line"),
      meaning: z.nullable(text("what it means that no build was found that breaks it; null where one was")),
    }),
  ),
});
