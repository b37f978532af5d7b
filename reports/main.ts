import { Command, CommanderError } from "commander";
import { BASE_ANYWHERE, type MakeCommand, type Surroundings } from "./commands/command.js";
import { isCommand, LISTED, listedOnly, listedTerm, type CommandName } from "./commands/listed.js";
import { Exit, userMessage } from "./output/errors.js";
import { ioWith, type Io } from "./output/io.js";
import { visibleLines } from "./output/visible.js";
import { VERSION } from "./output/version.js";
import { widthOf } from "./terminal/width.js";

/** Each is loaded when it is asked for. */
const COMMANDS: Readonly<Record<CommandName, () => Promise<MakeCommand>>> = {
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
  bill: async () => (await import("./commands/bill.js")).billCommand,
  cards: async () => (await import("./commands/cards.js")).cardsCommand,
  fault: async () => (await import("./commands/fault.js")).faultCommand,
  arrange: async () => (await import("./commands/arrange.js")).arrangeCommand,
  export: async () => (await import("./commands/export.js")).exportCommand,
  completion: async () => (await import("./commands/completion.js")).completionCommand,
};

/** The way in, below the list of commands. */
const BEGIN = `
Begin with "lampdrift new my.yaml", change that file, and let "check" read it.
"lampdrift COMMAND --help" tells the options of a command, with an example.`;

/**
 * Runs the command line and returns the exit status: 0 done, 1 a promise broken or a rating over, 2 bad input or
 * usage, 3 a fault of the program itself, 130 ended by Ctrl-C. Results go to standard output, messages to standard error.
 */
export async function main(args: readonly string[], io: Io): Promise<number> {
  const { stdout, stderr } = io;
  let status: number = Exit.Done;
  let misused: string | undefined;
  const surroundings: Surroundings = {
    io: args.includes(BASE_ANYWHERE) ? ioWith(io, { bases: "anywhere" }) : io,
    finish: (result) => {
      status = result;
    },
    commands: () => Promise.all(Object.values(COMMANDS).map(async (load) => (await load())(surroundings))),
  };
  const program = new Command("lampdrift")
    .description("Plans the house lighting of a miniature display from free-running timer boards.")
    .version(VERSION, "-v, --version", "print the version")
    .helpOption("-h, --help", "print this help")
    .helpCommand(false)
    .showSuggestionAfterError()
    .addHelpText("after", BEGIN)
    .configureHelp({ showGlobalOptions: false, subcommandTerm: (command) => listedTerm(command.name()) });
  // commander takes the first word that is no option for the command; the others are there for the help only
  const words = args[0] === "help" ? [...args.slice(1, 2), "--help"] : args;
  const asked = words.find((word) => !word.startsWith("-"));
  for (const name of Object.keys(LISTED).filter(isCommand)) {
    program.addCommand(name === asked ? (await COMMANDS[name]())(surroundings) : listedOnly(name));
  }
  for (const command of [program, ...program.commands]) {
    command.exitOverride().configureOutput({
      writeOut: (text) => stdout.write(text),
      writeErr: (text) => stderr.write(text),
      getOutHelpWidth: () => widthOf(stdout),
      getErrHelpWidth: () => widthOf(stderr),
      outputError: (text) => {
        const what = text.replace(/^error: /, "").replace(/^required option '(.+)' not specified/, "the option $1 is missing");
        const which = command === program ? "" : `${command.name()} `;
        misused = `lampdrift: ${what.trimEnd()}\n"lampdrift ${which}--help" shows the options and an example.`;
      },
    });
  }
  try {
    await program.parseAsync(words, { from: "user" });
    return status;
  } catch (error) {
    const usage = error instanceof CommanderError;
    if (usage && error.exitCode === 0) return Exit.Done;
    const message = usage ? misused : userMessage(error);
    if (message !== undefined) (await import("./terminal/tell.js")).tell(stderr, message);
    if (usage || message !== undefined) return Exit.BadInput;
    stderr.write(`${visibleLines(`lampdrift has met a fault of its own: ${traceOf(error)}`)}\n`);
    return Exit.OwnFault;
  }
}

/** All that is known of a fault of our own, for whoever mends it. */
function traceOf(error: unknown): string {
  return error instanceof Error ? (error.stack ?? error.message) : String(error);
}
