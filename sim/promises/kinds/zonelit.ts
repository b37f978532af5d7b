import { percent } from "../../units/text.js";
import type { PromiseKind } from "./kind.js";
import { atLeast } from "./limits.js";

/** Share of the open time with a house of the zone lit. */
export const zoneLit: PromiseKind<"zoneLit"> = {
  unit: "share",
  needs: "record",
  text: (promised) => `zone ${promised.zone} has a house lit at least ${percent(promised.atLeast)} of the time`,
  limit: (promised) => promised.atLeast,
  judge: (promised, { measures }) => atLeast(promised.atLeast, measures.zoneShare(promised.zone)),
  firstBreak: () => null,
};
