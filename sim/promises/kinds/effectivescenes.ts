import { several } from "../printing.js";
import type { PromiseKind } from "./kind.js";
import { atLeast } from "./limits.js";

/** The effective number of scenes, over the whole run. */
export const effectiveScenes: PromiseKind<"effectiveScenes"> = {
  unit: "scenes",
  needs: "record",
  text: (promised) => `the picture is as varied as at least ${several(promised.atLeast, "scene")} that are all shown equally long`,
  limit: (promised) => promised.atLeast,
  judge: (promised, { measures }) => atLeast(promised.atLeast, measures.effective),
  firstBreak: () => null,
};
