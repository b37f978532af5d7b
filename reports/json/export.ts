import * as z from "zod/mini";
import { id, lampdrift, ordinal, scenario, seconds, text, told } from "./vocabulary.js";

const since = (description: string) => seconds(`${description}, since Monday 00:00`);

/** What `lampdrift export --as json` writes. */
export const record = z.strictObject({
  lampdrift,
  scenario,
  houses: z.array(z.strictObject({ id: id("the house"), name: text("its name"), zone: z.nullable(text("its zone")) })),
  openings: z
    .array(
      z.strictObject({
        opening: ordinal("number of the opening"),
        fromSeconds: since("when it opens"),
        untilSeconds: since("when it closes"),
        spells: told(
          z.array(z.tuple([since("start"), ordinal("number of the scene")])),
          "start and scene of each; it ends where the next begins, the last at closing",
        ),
      }),
    )
    .check(z.minLength(1)),
  scenes: z.array(z.strictObject({ scene: ordinal("number of the scene"), houses: told(z.array(id("a house")), "those lit") })),
});
