/** What several commands ask for in the same way. */
import { availableParallelism } from "node:os";
import { InvalidArgumentError, Option } from "commander";

/** A whole number from an argument. */
export function wholeFrom(least: number, most: number): (text: string) => number {
  return (text) => {
    const value = /^\d{1,15}$/.test(text.trim()) ? Number(text) : NaN;
    if (value >= least && value <= most) return value;
    throw new InvalidArgumentError(`Expected a whole number from ${least} to ${most}.`);
  };
}

/** A name of what is to be written; an empty one, such as a shell makes of a variable that says nothing, is refused at once. */
export function nameFrom(text: string): string {
  if (text.trim() !== "") return text;
  throw new InvalidArgumentError("The name is empty; give one.");
}

/** The option for the threads that share the work. */
export function workersOption(): Option {
  return new Option("--workers <N>", "threads to use (default, and at most: one a processor)")
    .argParser(wholeFrom(1, 64))
    .default(availableParallelism());
}
