import * as z from "zod/mini";
import type { Bill } from "../../sim/bill/index.js";
import type { BoardFigures } from "../../sim/figures/boards.js";
import type { Figures } from "../../sim/figures/index.js";
import type { FittedBoard } from "../../sim/fit/index.js";
import type { HuntResult } from "../../sim/hunt/index.js";
import type { PromiseResult } from "../../sim/promises/index.js";
import type { Rating } from "../../sim/ratings/index.js";
import type { Spread } from "../../sim/spread/index.js";
import type { PartsAnswer } from "../../sim/timerparts/index.js";
import type { Tuning } from "../../sim/tune/index.js";
import type { Seconds } from "../../sim/units/time.js";
import { arrange } from "./arrange.js";
import { bill } from "./bill.js";
import { compare } from "./compare.js";
import { record } from "./export.js";
import { fault } from "./fault.js";
import { fit } from "./fit.js";
import { hunt } from "./hunt.js";
import { parts } from "./parts.js";
import { check, run } from "./run.js";
import { spread } from "./spread.js";
import { tune } from "./tune.js";

/** What the library computes and commands print as it is: where a schema lacks one of its keys, this does not compile. */
interface Computed {
  readonly run: PrintedFigures;
  readonly check: PrintedFigures & { readonly promises: readonly PromiseResult[]; readonly ratings: readonly Rating[] };
  readonly spread: Spread;
  readonly hunt: { readonly promises: readonly HuntResult[] };
  readonly parts: PartsAnswer;
  readonly tune: Tuning;
  readonly fit: { readonly boards: readonly FittedBoard[] };
  readonly bill: Bill;
}

/** Figures in which a time that never ends is null. */
type PrintedFigures = Omit<Figures, "boards"> & {
  readonly boards: readonly { readonly [Key in keyof BoardFigures]: BoardFigures[Key] extends Seconds ? Seconds | null : BoardFigures[Key] }[];
};

/** What each command prints with `--json`, by its name; `export`: with `--as json`. */
export const SHAPES = { run, check, spread, hunt, parts, tune, compare, fit, bill, fault, arrange, export: record } satisfies {
  readonly [Name in keyof Computed]: z.ZodMiniType<Computed[Name]>;
} & Readonly<Record<string, z.ZodMiniType>>;

/** The JSON Schema of what a command prints. */
export function printedJsonSchema(command: keyof typeof SHAPES): object {
  const title = command === "export" ? "lampdrift export --as json" : `lampdrift ${command} --json`;
  const { $schema, ...shape } = z.toJSONSchema(SHAPES[command]);
  return { $schema, title, ...shape };
}
