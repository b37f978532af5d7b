import { firstSpell } from "../../figures/spells.js";
import { litText, range, time, valueText } from "../printing.js";
import type { PromiseKind } from "./kind.js";
import { endOf, within } from "./limits.js";
import { toSeconds } from "../../units/time.js";

/** Every spell; one that closing cuts short is held against the upper limit alone. */
export const sceneLasts: PromiseKind<"sceneLasts"> = {
  unit: "s",
  needs: "record",
  text: (promised) => `every scene lasts ${range(promised, time)}`,
  limit: endOf,
  judge(promised, { measures }) {
    const { shortestWhole, longest } = measures.spells;
    return within(promised, shortestWhole === null ? null : toSeconds(shortestWhole), toSeconds(longest));
  },
  firstBreak({ from, to }, { measures: { record } }) {
    const found = firstSpell(
      record,
      (length, cut) => (to !== null && toSeconds(length) > to) || (!cut && from !== null && toSeconds(length) < from),
    );
    if (found === null) return null;
    const lasts = toSeconds(found.length);
    const limit = to !== null && lasts > to ? to : from;
    return { at: found.start, what: `the scene lasts ${valueText(lasts, limit, "s")}; ${litText(record, found.scene)}` };
  },
};
