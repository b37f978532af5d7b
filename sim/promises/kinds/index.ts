import type { Promised, PromisedOf } from "../../model/scenario.js";
import { anyHour } from "./anyhour.js";
import { darkSpell } from "./darkspell.js";
import { effectiveScenes } from "./effectivescenes.js";
import type { PromiseKind } from "./kind.js";
import { litHouses } from "./lithouses.js";
import { ratings } from "./ratings.js";
import { repeatOnReturn } from "./repeatonreturn.js";
import { repeatWithinStay } from "./repeatwithinstay.js";
import { sceneLasts } from "./scenelasts.js";
import { step } from "./step.js";
import { zoneLit } from "./zonelit.js";

/** Every kind of promise. One that is left out does not compile. */
const KINDS: { readonly [Kind in Promised["kind"]]: PromiseKind<Kind> } = {
  step,
  sceneLasts,
  litHouses,
  darkSpell,
  anyHour,
  effectiveScenes,
  repeatOnReturn,
  repeatWithinStay,
  zoneLit,
  ratings,
};

/** Their keys in the scenario file. */
export const PROMISE_KINDS = Object.keys(KINDS) as Promised["kind"][];

/** The kind of a promise. */
export function kindOf<Kind extends Promised["kind"]>({ kind }: PromisedOf<Kind>): PromiseKind<Kind> {
  return KINDS[kind];
}
