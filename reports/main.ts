import { Command, CommanderError } from "commander";
import { cardsCommand } from "./commands/cards.js";
import { checkCommand } from "./commands/check.js";
import type { MakeCommand } from "./commands/command.js";
import { compareCommand } from "./commands/compare.js";
import { faultCommand } from "./commands/fault.js";
import { fitCommand } from "./commands/fit.js";
import { huntCommand } from "./commands/hunt.js";
import { newCommand } from "./commands/new.js";
import { reportCommand } from "./commands/report.js";
import { partsCommand } from "./commands/parts.js";
import { runCommand } from "./commands/run.js";
import { tuneCommand } from "./commands/tune.js";
import { spreadCommand } from "./commands/spread.js";
import { Exit, userMessage } from "./output/errors.js";
import { reason } from "./output/files.js";
import { visibleLines } from "./output/table.js";
import { VERSION } from "./output/version.js";

/** In the order of the help. */
const COMMANDS: readonly MakeCommand[] = [
  newCommand,
  checkCommand,
  runCommand,
  reportCommand,
  spreadCommand,
  huntCommand,
  partsCommand,
  tuneCommand,
  compareCommand,
  fitCommand,
  cardsCommand,
  faultCommand,
];

/**
 * Runs the command line and returns the exit status: 0 done, 1 a promise broken or a rating over, 2 bad input or
 * usage. Results go to standard output, messages to standard error.
 */
export async function main(args: readonly string[]): Promise<number> {
  // a reader that has seen enough closes the pipe: no fault of ours or theirs
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") process.exit(Exit.Done);
    process.stderr.write(`cannot write the result: ${reason(error)}\n`);
    process.exit(Exit.BadInput);
  });
  // with nobody to read it a message is lost, but the exit status still tells
  process.stderr.on("error", () => undefined);
  let status: number = Exit.Done;
  const program = new Command("lampdrift")
    .description("Plans the house lighting of a miniature display from free-running timer boards.")
    .version(VERSION, "--version", "print the version")
    .helpOption("-h, --help", "print this help")
    .helpCommand(false)
    .showSuggestionAfterError()
    .configureHelp({ showGlobalOptions: false });
  const finish = (result: Exit): void => {
    status = result;
  };
  for (const command of COMMANDS) program.addCommand(command(finish));
  for (const command of [program, ...program.commands]) {
    command.exitOverride().configureOutput({ outputError: (text, write) => write(visibleLines(`lampdrift: ${text.replace(/^error: /, "")}`)) });
  }
  try {
    await program.parseAsync(args, { from: "user" });
    return status;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? Exit.Done : Exit.BadInput;
    const message = userMessage(error) ?? `lampdrift has met a fault of its own: ${String(error)}`;
    process.stderr.write(`${visibleLines(message)}\n`);
    return Exit.BadInput;
  }
}
