import { Command } from "commander";
import type { Exit } from "../output/errors.js";
import type { Io } from "../output/io.js";

export interface Surroundings {
  readonly io: Io;
  /** Takes the exit status when it is not 0. */
  readonly finish: (status: Exit) => void;
  /** All commands of the program, in the order of its help. */
  readonly commands: () => Promise<Command[]>;
}

export type MakeCommand = (surroundings: Surroundings) => Command;

/** A command with an example in its help. */
export function commandWithExample(name: string, description: string, example: string): Command {
  return new Command(name)
    .description(description)
    .helpOption("-h, --help", "print this help")
    .addHelpText("after", `\nExample:\n  ${example}`);
}
