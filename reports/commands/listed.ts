import { Command } from "commander";

interface Listed {
  readonly description: string;
  /** What is typed behind the name, as the list of commands shows it. */
  readonly usage: string;
}

/** The commands in the order of the help, which is printed from here: loading all of them takes longer than most take to run. */
export const LISTED = {
  new: { description: "write a commented starter scenario; never overwrites", usage: "[FILE]" },
  check: { description: "read a scenario, say what it describes, and list its ratings and promises", usage: "[options] <FILE>" },
  run: { description: "simulate the nominal build and print the figures", usage: "[options] <FILE>" },
  report: { description: "write the committee's report", usage: "[options] <FILE>" },
  spread: { description: "draw builds from the tolerances and show how their figures and promises spread", usage: "[options] <FILE>" },
  hunt: {
    description: "look for part values inside tolerance that break a promise, and find the plainest such build",
    usage: "[options] <FILE>",
  },
  parts: { description: "choose timer parts that cover a range of step times at every corner of tolerance", usage: "[options]" },
  tune: {
    description: "look for the knob settings that keep the promised steps and show the same scene least often",
    usage: "[options] <FILE>",
  },
  compare: {
    description: "show alternatives side by side, on the same draws, and which differences are more than chance",
    usage: "[options] <FILES...>",
  },
  fit: {
    description: "turn a stopwatch log (header board,time; a row for each change seen) into measured timers",
    usage: "[options] <LOG.csv>",
  },
  bill: { description: "list what to buy for all boards, lamps and wires", usage: "[options] <FILE>" },
  cards: { description: "write cards to print for each board: wiring, parts, knob, finding faults", usage: "[options] <FILE>" },
  fault: { description: "rank what could be wrong from what is seen, and say where to look next", usage: "[options] <FILE>" },
  arrange: {
    description: "look for the outputs on which each house should hang: promises kept, light even, neighbours apart, wires short",
    usage: "[options] <FILE>",
  },
  export: { description: "write what the display shows for other programs", usage: "[options] <FILE>" },
  completion: { description: "print a script that lets a shell complete commands and options", usage: "<SHELL>" },
} as const satisfies Readonly<Record<string, Listed>>;

export type CommandName = keyof typeof LISTED;

/** A command for the list alone: it has a name and a description and does nothing. */
export function listedOnly(name: CommandName): Command {
  return new Command(name).description(LISTED[name].description);
}

/** How the list shows a command: its name and what is typed behind it. */
export function listedTerm(name: string): string {
  return isCommand(name) ? `${name} ${LISTED[name].usage}` : name;
}

export function isCommand(name: string): name is CommandName {
  return Object.hasOwn(LISTED, name);
}
