import { Command } from "commander";
import type { Exit } from "../output/errors.js";

/** Makes a command; `finish` takes the exit status when it is not 0. */
export type MakeCommand = (finish: (status: Exit) => void) => Command;

/** A command with an example in its help. */
export function commandWithExample(name: string, description: string, example: string): Command {
  return new Command(name)
    .description(description)
    .helpOption("-h, --help", "print this help")
    .addHelpText("after", `\nExample:\n  ${example}`);
}
