import type { Command, Option } from "commander";

/** What can be typed behind the name of the program, taken from the commands themselves. */
export interface TypedCommand {
  readonly name: string;
  readonly description: string;
  readonly options: readonly TypedOption[];
  /** Words that an argument can be; null: names of files. */
  readonly words: readonly string[] | null;
}

export interface TypedOption {
  /** Such as "--json", and "-o" where there is one. */
  readonly flags: readonly string[];
  readonly description: string;
  /** What a value of it is: a file, a directory, or something that nobody can complete; null where it takes none. */
  readonly value: "file" | "directory" | "other" | readonly string[] | null;
}

/** The command line as the shells' scripts need it. */
export function typedCommands(commands: readonly Command[]): TypedCommand[] {
  return commands.map((command) => {
    const words = command.registeredArguments.flatMap(({ argChoices }) => argChoices ?? []);
    return {
      name: command.name(),
      description: command.description(),
      options: [...command.options.map(typedOption), { flags: ["-h", "--help"], description: "print this help", value: null }],
      words: words.length === 0 ? null : words,
    };
  });
}

function typedOption({ short, long, description, flags, argChoices }: Option): TypedOption {
  const names = [short, long].filter((flag) => flag !== undefined);
  const value = /[<[]([^>\]]+)[>\]]/.exec(flags)?.[1];
  if (value === undefined) return { flags: names, description, value: null };
  if (argChoices !== undefined) return { flags: names, description, value: argChoices };
  // "<FILE.svg>", "<NEW.yaml>", "<DIR>" say what they are
  if (/^DIR/.test(value)) return { flags: names, description, value: "directory" };
  return { flags: names, description, value: /FILE|\.\w+$/.test(value) ? "file" : "other" };
}
