import { Command, CommanderError } from "commander";
import type { MakeCommand } from "./commands/command.js";
import { Exit, userMessage } from "./output/errors.js";
import { reason } from "./output/files.js";
import { visibleLines } from "./output/table.js";
import { VERSION } from "./output/version.js";

/** In the order of the help. Each is loaded when it is asked for, since all of them take longer to load than most take to run. */
const COMMANDS: Readonly<Record<string, () => Promise<MakeCommand>>> = {
  new: async () => (await import("./commands/new.js")).newCommand,
  check: async () => (await import("./commands/check.js")).checkCommand,
  run: async () => (await import("./commands/run.js")).runCommand,
  report: async () => (await import("./commands/report.js")).reportCommand,
  spread: async () => (await import("./commands/spread.js")).spreadCommand,
  hunt: async () => (await import("./commands/hunt.js")).huntCommand,
  parts: async () => (await import("./commands/parts.js")).partsCommand,
  tune: async () => (await import("./commands/tune.js")).tuneCommand,
  compare: async () => (await import("./commands/compare.js")).compareCommand,
  fit: async () => (await import("./commands/fit.js")).fitCommand,
  cards: async () => (await import("./commands/cards.js")).cardsCommand,
  fault: async () => (await import("./commands/fault.js")).faultCommand,
};

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
  const [asked = ""] = args;
  for (const name of Object.hasOwn(COMMANDS, asked) ? [asked] : Object.keys(COMMANDS)) program.addCommand((await COMMANDS[name]!())(finish));
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
