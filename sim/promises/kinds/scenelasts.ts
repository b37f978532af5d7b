import { firstSpell } from "../../figures/spells.js";
import { litText, range, time, valueText } from "../printing.js";
import type { PromiseKind } from "./kind.js";
import { endOf, within } from "./limits.js";

/** Every spell; one that closing cuts short is held against the upper limit alone. */
export const sceneLasts: PromiseKind<"sceneLasts"> = {
  unit: "s",
  needs: "record",
  text: (promised) => `every scene lasts ${range(promised, time)}`,
  limit: endOf,
  judge(promised, { measures }) {
    const { shortestWhole, longest } = measures.spells;
    return within(promised, shortestWhole === null ? null : shortestWhole / 1e6, longest / 1e6);
  },
  firstBreak({ from, to }, { measures: { record } }) {
    const found = firstSpell(
      record,
      (length, cut) => (to !== null && length / 1e6 > to) || (!cut && from !== null && length / 1e6 < from),
    );
    if (found === null) return null;
    const lasts = found.length / 1e6;
    const limit = to !== null && lasts > to ? to : from;
    return { at: found.start, what: `the scene lasts ${valueText(lasts, limit, "s")}; ${litText(record, found.scene)}` };
  },
};
