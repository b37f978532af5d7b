import type { TypedCommand, TypedOption } from "./commandline.js";

/** A completion script for fish. */
export function fishCompletion(commands: readonly TypedCommand[]): string {
  return [
    "# lampdrift completion for fish; to use it: lampdrift completion fish | source",
    "complete -c lampdrift -e",
    ...commands.map(({ name, description }) => `complete -c lampdrift -n __fish_use_subcommand -f -a ${name} -d ${quoted(description)}`),
    ...commands.flatMap(({ name, options, words }) => {
      const inside = `complete -c lampdrift -n '__fish_seen_subcommand_from ${name}'`;
      return [
        ...options.map((option) => `${inside} ${flagsOf(option)} -d ${quoted(option.description)}`),
        ...(words === null ? [] : [`${inside} -f -a '${words.join(" ")}'`]),
      ];
    }),
    "",
  ].join("\n");
}

function flagsOf({ flags, value }: TypedOption): string {
  const names = flags.map((flag) => (flag.startsWith("--") ? `-l ${flag.slice(2)}` : `-s ${flag.slice(1)}`));
  if (value === null) return names.join(" ");
  if (value === "file") return [...names, "-r -F"].join(" ");
  if (value === "directory") return [...names, "-x -a '(__fish_complete_directories)'"].join(" ");
  return [...names, value === "other" ? "-x" : `-x -a '${value.join(" ")}'`].join(" ");
}

function quoted(text: string): string {
  return `'${text.replaceAll("\\", "\\\\").replaceAll("'", "\\'")}'`;
}
