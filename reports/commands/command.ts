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

/** Columns of the lines in which examples are shown, without their indentation. */
const EXAMPLE_WIDTH = 72;

/** A command with examples in its help; those of several lines go on as a shell lets them. */
export function commandWithExample(name: CommandName, ...examples: readonly string[]): Command {
  const shown = examples.map(shellLines);
  const command = new Command(name)
    .description(LISTED[name].description)
    .helpOption("-h, --help", "print this help")
    .addHelpText("after", `\n${examples.length === 1 ? "Example" : "Examples"}:\n  ${shown.join("\n  ")}`);
  if (!WITHOUT_SCENARIO.has(name)) command.option(BASE_ANYWHERE, "read a base outside the scenario's own folder, too");
  return command;
}

/** A command line, broken before an option where it is long. */
function shellLines(example: string): string {
  const lines = [""];
  for (const piece of example.split(/ (?=--?[a-z]|>)/)) {
    const longer = lines.at(-1) === "" ? piece : `${lines.at(-1)!} ${piece}`;
    if (longer.length <= EXAMPLE_WIDTH || lines.at(-1) === "") lines[lines.length - 1] = longer;
    else lines.push(`    ${piece}`);
  }
  return lines.join(" \\\n  ");
}
