import type * as z from "zod/mini";
import type { Figures } from "../../sim/figures/index.js";
import type { PromiseResult } from "../../sim/promises/index.js";
import type { Scenario } from "../../sim/model/scenario.js";
import type { Seconds } from "../../sim/units/time.js";
import type { Io } from "../output/io.js";
import { VERSION } from "../output/version.js";
import type { SHAPES } from "./shapes.js";

/** A value that nobody changes, to its last key. */
type Frozen<T> = T extends object ? { readonly [Key in keyof T]: Frozen<T[Key]> } : T;

/** What a command prints, as its schema has it. */
type Printed<Command extends keyof typeof SHAPES> = Frozen<z.output<(typeof SHAPES)[Command]>>;

/** The same without the key that every object begins with. */
export type Told<Command extends keyof typeof SHAPES> = Omit<Printed<Command>, "lampdrift">;

/** What printed an object. */
export const PRINTED_BY: Printed<"run">["lampdrift"] = { version: VERSION, format: 1 };

/** Every figure of a run under the keys that other programs rely on, with what it was computed from and what was promised. */
export function runJson({ title, file, seed }: Scenario, figures: Figures, promises: readonly PromiseResult[]): Printed<"run"> {
  const boards = figures.boards.map((board) => ({
    ...board,
    stepSeconds: finite(board.stepSeconds),
    firstStepSeconds: finite(board.firstStepSeconds),
    cycleSeconds: finite(board.cycleSeconds),
  }));
  return { lampdrift: PRINTED_BY, scenario: { title, file, seed }, ...figures, boards, promises };
}

/** What never ends has no number in JSON. */
function finite(seconds: Seconds): Seconds | null {
  return seconds === Infinity ? null : seconds;
}

/**
 * A value as JSON. Characters that could steer a terminal or turn the direction of writing are escaped: whoever looks at
 * the text is not misled, and whoever parses it gets every name as it is.
 */
export function jsonText(value: object, indent?: number): string {
  const escape = (sign: string): string =>
    Array.from({ length: sign.length }, (_, i) => `\\u${sign.charCodeAt(i).toString(16).padStart(4, "0")}`).join("");
  return JSON.stringify(value, null, indent).replace(/[\u007f-\u009f\u2028\u2029\p{Cf}]/gu, escape);
}

/** One JSON object as the whole of standard output. */
export function printJson<Command extends keyof typeof SHAPES>({ stdout }: Io, _command: Command, value: Told<Command>): void {
  stdout.write(`${jsonText({ lampdrift: PRINTED_BY, ...value }, 2)}\n`);
}
