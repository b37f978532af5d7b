import { longestDarkSpell } from "../../figures/dark.js";
import { time, valueText } from "../printing.js";
import type { PromiseKind } from "./kind.js";
import { atMost } from "./limits.js";
import { toSeconds } from "../../units/time.js";

/** No house dark for longer at a stretch within one opening. */
export const darkSpell: PromiseKind<"darkSpell"> = {
  unit: "s",
  needs: "record",
  text: (promised) => `no house is dark for more than ${time(promised.atMost)} at a stretch`,
  limit: (promised) => promised.atMost,
  judge: (promised, { measures }) => atMost(promised.atMost, toSeconds(measures.longestDark)),
  firstBreak(promised, { measures: { record } }) {
    const found = longestDarkSpell(record);
    if (found === null) return null;
    const { id } = record.scenario.houses[found.house]!;
    return { at: found.start, what: `house ${id} is dark for ${valueText(toSeconds(found.length), promised.atMost, "s")}` };
  },
};
