import { firstDullHour } from "../hours.js";
import { several } from "../printing.js";
import type { PromiseKind } from "./kind.js";
import { atLeast } from "./limits.js";

/** Different scenes in any 60 min inside one opening; kept where no opening is so long. */
export const anyHour: PromiseKind<"anyHour"> = {
  unit: "scenes",
  needs: "record",
  text: (promised) => `any hour shows at least ${several(promised.atLeast, "different scene")}`,
  limit: (promised) => promised.atLeast,
  judge: (promised, { measures }) => atLeast(promised.atLeast, measures.fewestScenes),
  firstBreak(promised, { measures }) {
    const found = firstDullHour(measures.line, promised.atLeast);
    return found && { at: found.start, what: `the hour from then on shows ${several(found.scenes, "different scene")}` };
  },
};
