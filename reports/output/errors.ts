import { InputError } from "../../sim/errors.js";
import { ScenarioError } from "../../sim/scenario/problems.js";

/** What the exit status tells, the same for every command. */
export const enum Exit {
  Done = 0,
  /** A promise broken, a rating over, a counterexample found. */
  Broken = 1,
  /** Bad input or bad usage. */
  BadInput = 2,
  /** Ended by Ctrl-C, with the best so far. */
  Stopped = 130,
  /** The program has met a fault of its own. */
  OwnFault = 3,
}

/** Something the user asked for that cannot be done as asked; the message says what would do. */
export class UsageError extends InputError {
  override readonly name = "UsageError";
}

/** The text for an error that input or arguments can cause; undefined for one that only a fault of ours can. */
export function userMessage(error: unknown): string | undefined {
  if (error instanceof ScenarioError && error.problems.length > 1) {
    return `${error.message}\n${error.problems.length} problems in ${error.file}`;
  }
  if (error instanceof RangeError && TOO_MUCH.test(error.message)) {
    return "the memory of this computer is not enough for this: ask for fewer builds, or simulate fewer days (opening.run)";
  }
  return error instanceof InputError ? error.message : undefined;
}

/** What the language says when something larger is asked for than it has room for. */
const TOO_MUCH = /^(Array buffer allocation failed|Invalid (typed array|array|string) length|(Map|Set) maximum size exceeded)/;
