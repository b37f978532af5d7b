import type * as z from "zod";
import type { House, Promised } from "../model/scenario.js";
import { knownWords } from "./problems.js";
import type { promisesSchema } from "./schema.js";

type PromiseFile = z.output<typeof promisesSchema>[number];

/** The promises of the file, one kind each; a zone that no house has is reported. */
export function resolvePromises(
  file: readonly PromiseFile[],
  houses: readonly House[],
  report: (path: readonly (string | number)[], message: string) => void,
): Promised[] {
  const zones = [...new Set(houses.flatMap(({ zone }) => zone ?? []))];
  return file.flatMap((promise, index): Promised[] => {
    if (promise.step) return [{ kind: "step", ...range(promise.step) }];
    if (promise.sceneLasts) return [{ kind: "sceneLasts", ...range(promise.sceneLasts) }];
    if (promise.litHouses) return [{ kind: "litHouses", ...range(promise.litHouses) }];
    if (promise.darkSpell) return [{ kind: "darkSpell", ...promise.darkSpell }];
    if (promise.anyHour) return [{ kind: "anyHour", ...promise.anyHour }];
    if (promise.effectiveScenes) return [{ kind: "effectiveScenes", ...promise.effectiveScenes }];
    if (promise.repeatOnReturn) return [{ kind: "repeatOnReturn", ...promise.repeatOnReturn }];
    if (promise.repeatWithinStay) return [{ kind: "repeatWithinStay", ...promise.repeatWithinStay }];
    if (promise.ratings) return [{ kind: "ratings" }];
    const { zone, atLeast } = promise.zoneLit!;
    if (zones.includes(zone)) return [{ kind: "zoneLit", zone, atLeast }];
    report([index, "zoneLit", "zone"], `no house is in zone "${zone}"; ${knownWords(zone, zones, "zones")}`);
    return [];
  });
}

function range({ from, to }: { from?: number | undefined; to?: number | undefined }): { from: number | null; to: number | null } {
  return { from: from ?? null, to: to ?? null };
}
