import { Command } from "commander";
import type { Exit } from "../output/errors.js";
import type { Io } from "../output/io.js";
import { LISTED, type CommandName } from "./listed.js";

export interface Surroundings {
  readonly io: Io;
  /** Takes the exit status when it is not 0. */
  readonly finish: (status: Exit) => void;
  /** All commands of the program, in the order of its help. */
  readonly commands: () => Promise<Command[]>;
}

export type MakeCommand = (surroundings: Surroundings) => Command;

/** A command with an example in its help. */
export function commandWithExample(name: CommandName, example: string): Command {
  return new Command(name)
    .description(LISTED[name].description)
    .helpOption("-h, --help", "print this help")
    .addHelpText("after", `\nExample:\n  ${example}`);
}
