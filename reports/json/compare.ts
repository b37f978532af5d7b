import * as z from "zod/mini";
import type { FigureKey } from "../../sim/figures/headlines.js";
import { run, verdicts } from "./run.js";
import { count, figureUnit, lampdrift, number, share, text, told, truth } from "./vocabulary.js";

const difference = z.strictObject({
  mean: number("mean difference from the first alternative"),
  low: number("lower end of its 95 % interval"),
  high: number("upper end of it"),
  pairs: count("pairs of builds"),
  chance: share("how often chance alone brings a difference as large"),
  distinct: truth("whether it is more than chance, all figures asked about at once (Holm)"),
});

export const compare = z.strictObject({
  lampdrift,
  alternatives: z.array(
    z.strictObject({
      file: text("name of the file, as it was given"),
      title: text("title of the display"),
      run: told(run, "as run --json prints it, of the nominal build"),
      check: z.strictObject(verdicts),
      bill: z.strictObject({ boards: count("boards"), houses: count("houses"), lamps: count("lamps"), parts: count("parts") }),
      drawn: z.strictObject({
        stalled: count("builds in which a timer stalls"),
        unreachable: count("builds in which a knob does not reach its setting"),
        promises: z.array(z.strictObject({ text: text("the promise in words"), kept: count("builds that keep it"), builds: count("builds drawn") })),
      }),
    }),
  ),
  differences: z.array(
    z.strictObject({
      figure: told(
        z.string() as z.ZodMiniType<FigureKey | "repeat.worstEcho">,
        "place of the figure in the output of run, such as scenes.effective; repeat.worstEcho: the highest point after the first fall",
      ),
      unit: figureUnit,
      words: text("what it is called"),
      better: told(z.nullable(z.enum(["more", "less"])), "which way it is better; null where that is a matter of taste"),
      values: told(z.array(z.nullable(z.number())), "mean over the builds of each alternative; null where no build has it"),
      againstFirst: told(z.array(z.nullable(difference)), "each against the first, over builds of the same number; null for the first"),
      distinct: truth("whether the builds tell any alternative from the first"),
    }),
  ),
});
