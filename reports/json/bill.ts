import * as z from "zod/mini";
import { amount, count, lampdrift, text, told } from "./vocabulary.js";

export const bill = z.strictObject({
  lampdrift,
  items: z.array(
    z.strictObject({
      what: z.enum(["resistor", "capacitor", "chip", "socket", "diode", "trimmer", "lamp", "fuse", "connector", "wire"]),
      value: text("as printed on the part"),
      rating: z.nullable(text('such as "0.25 W"')),
      count: amount("pieces needed; metres of wire"),
      spares: count("pieces to buy besides; metres of wire"),
      boards: told(z.record(z.string(), z.number().check(z.gte(0))), "how many of them, by id of the board"),
      references: told(z.record(z.string(), z.array(z.string())), "what the wiring card calls them, by id of the board"),
    }),
  ),
  notes: told(z.array(z.string()), "what the items leave out, and how lengths were reckoned"),
});
