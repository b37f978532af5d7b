import * as z from "zod/mini";
import type { House, Promised, PromisedOf } from "../model/scenario.js";
import { duration, ratio } from "../units/quantities.js";
import { FOREVER, id, keyed, quantity, word } from "./fields.js";
import { knownWords } from "./problems.js";

const share = quantity(ratio, { least: 0, most: 1 });
const count = z.number({ error: () => "a number" }).check(z.gte(0, { error: () => "a number of at least 0" }));
const seconds = quantity(duration, { least: 0, most: FOREVER });
const someTime = quantity(duration, { above: 0, most: FOREVER });
const span = <Bound extends z.ZodMiniType<number>>(bound: Bound) =>
  z.pipe(
    keyed("a range", { from: z.optional(bound), to: z.optional(bound) }).check(
      z.refine(({ from, to }) => from !== undefined || to !== undefined, { error: () => "from, to, or both" }),
      z.refine(({ from, to }) => from === undefined || to === undefined || from <= to, {
        path: ["to"],
        error: () => "an upper end not below the lower one",
      }),
    ),
    z.transform(({ from = null, to = null }) => ({ from, to })),
  );

/** What each promise says in the file, by its key. One that is left out does not compile. */
const KEYS = {
  step: span(seconds),
  sceneLasts: span(seconds),
  litHouses: span(count),
  darkSpell: keyed("a limit", { atMost: seconds }),
  anyHour: keyed("a limit", { atLeast: count }),
  effectiveScenes: keyed("a limit", { atLeast: count }),
  repeatOnReturn: keyed("a limit", { after: someTime, atMost: share }),
  repeatWithinStay: keyed("a limit", { stay: someTime, atMost: share }),
  zoneLit: keyed("a limit", { zone: id, atLeast: share }),
  ratings: z.pipe(
    word("within"),
    z.transform(() => ({})),
  ),
} satisfies { readonly [Kind in Promised["kind"]]: z.ZodMiniType<Omit<PromisedOf<Kind>, "kind">> };

type OptionalKeys = { [Kind in keyof typeof KEYS]: z.ZodMiniOptional<(typeof KEYS)[Kind]> };

const promiseSchema = keyed(
  "a promise",
  Object.fromEntries(Object.entries(KEYS).map(([kind, keys]) => [kind, z.optional(keys)])) as unknown as OptionalKeys,
).check(
  z.refine((promise) => Object.values(promise).filter((value) => value !== undefined).length === 1, {
    error: () => "exactly one promise an entry: put each on a line of its own, beginning with -",
  }),
);

export const promisesSchema = z.array(promiseSchema, { error: () => "a list of promises" });

/** The promises of the file, one kind each; a zone that no house has is reported. */
export function resolvePromises(
  file: z.output<typeof promisesSchema>,
  houses: readonly House[],
  report: (path: readonly (string | number)[], message: string) => void,
): Promised[] {
  const zones = [...new Set(houses.flatMap(({ zone }) => zone ?? []))];
  return file.flatMap((promise, index): Promised[] => {
    const [kind, keys] = Object.entries(promise).find(([, value]) => value !== undefined)!;
    const promised = { kind, ...keys } as Promised;
    if (!("zone" in promised) || zones.includes(promised.zone)) return [promised];
    report(
      [index, kind, "zone"],
      `no house is in zone "${promised.zone}"; ${knownWords(promised.zone, zones, "zones")}`,
    );
    return [];
  });
}
