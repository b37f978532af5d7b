import { count, litText, range } from "../printing.js";
import type { PromiseKind } from "./kind.js";
import { endOf, within } from "./limits.js";

/** Houses lit at any open time. */
export const litHouses: PromiseKind<"litHouses"> = {
  unit: "houses",
  needs: "record",
  text: (promised) => `${range(promised, count)} houses are lit at any moment`,
  limit: endOf,
  judge(promised, { measures }) {
    let least = Infinity;
    let most = 0;
    for (const { length } of measures.record.scenes) {
      least = Math.min(least, length);
      most = Math.max(most, length);
    }
    return within(promised, least, most);
  },
  firstBreak({ from, to }, { measures: { record } }) {
    const i = record.spellScene.findIndex((scene) => {
      const { length } = record.scenes[scene]!;
      return (from !== null && length < from) || (to !== null && length > to);
    });
    return i < 0 ? null : { at: record.spellStart[i]!, what: litText(record, record.spellScene[i]!) };
  },
};
