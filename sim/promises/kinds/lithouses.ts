import { count, litText, range } from "../printing.js";
import type { PromiseKind } from "./kind.js";
import { endOf, within } from "./limits.js";

/** Houses lit at any open time. */
export const litHouses: PromiseKind<"litHouses"> = {
  unit: "houses",
  needs: "record",
  text: (promised) => {
    const last = promised.to ?? promised.from!;
    return `${range(promised, count)} ${last === 1 ? "house is" : "houses are"} lit at any moment`;
  },
  limit: endOf,
  judge(promised, { measures }) {
    let least = Infinity;
    let most = 0;
    const { scenes } = measures.record;
    for (let scene = 0; scene < scenes.length; scene++) {
      const houses = scenes.count(scene);
      least = Math.min(least, houses);
      most = Math.max(most, houses);
    }
    return within(promised, least, most);
  },
  firstBreak({ from, to }, { measures: { record } }) {
    const i = record.spellScene.findIndex((scene) => {
      const length = record.scenes.count(scene);
      return (from !== null && length < from) || (to !== null && length > to);
    });
    return i < 0 ? null : { at: record.spellStart[i]!, what: litText(record, record.spellScene[i]!) };
  },
};
