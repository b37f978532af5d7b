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

/** Allows a scenario to be based on a file outside its own folder; each command that reads scenarios takes it. */
export const BASE_ANYWHERE = "--base-anywhere";

/** Commands that read no scenario. */
const WITHOUT_SCENARIO: ReadonlySet<CommandName> = new Set(["new", "parts", "completion"]);

/** A command with an example in its help. */
export function commandWithExample(name: CommandName, example: string): Command {
  const command = new Command(name)
    .description(LISTED[name].description)
    .helpOption("-h, --help", "print this help")
    .addHelpText("after", `\nExample:\n  ${example}`);
  if (!WITHOUT_SCENARIO.has(name)) command.option(BASE_ANYWHERE, "read a base outside the scenario's own folder, too");
  return command;
}
