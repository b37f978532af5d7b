import type { PromiseKind } from "./kind.js";

/** Kept while no rating is over its limit; its value is the largest share of a limit. */
export const ratings: PromiseKind<"ratings"> = {
  unit: "share",
  needs: "trace",
  text: () => "every part is within its rating",
  limit: () => 1,
  judge(_promised, { ratings: rows }) {
    const share = rows.reduce((most, row) => Math.max(most, row.share), 0);
    return { kept: rows.every(({ verdict }) => verdict !== "over"), value: share, limit: 1 };
  },
  firstBreak(_promised, { ratings: rows }) {
    const over = rows.find(({ verdict }) => verdict === "over");
    return over === undefined ? null : { at: over.worst?.at ?? null, what: `${over.what}, ${over.where}` };
  },
};
