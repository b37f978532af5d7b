import type { TypedCommand, TypedOption } from "./commandline.js";

/** A completion script for bash 4 and later. */
export function bashCompletion(commands: readonly TypedCommand[]): string {
  return [
    "# lampdrift completion for bash; to use it: source <(lampdrift completion bash)",
    "_lampdrift() {",
    '  local current="${COMP_WORDS[COMP_CWORD]}" previous="${COMP_WORDS[COMP_CWORD-1]}"',
    "  COMPREPLY=()",
    "  if [[ $COMP_CWORD -eq 1 ]]; then",
    `    COMPREPLY=($(compgen -W '${[...commands.map(({ name }) => name), "--help", "--version"].join(" ")}' -- "$current"))`,
    "    return",
    "  fi",
    '  case "${COMP_WORDS[1]}" in',
    ...commands.flatMap((command) => [`    ${command.name})`, ...branch(command).map((line) => `      ${line}`), "      ;;"]),
    "  esac",
    "}",
    "complete -o filenames -F _lampdrift lampdrift",
    "",
  ].join("\n");
}

function branch({ options, words }: TypedCommand): string[] {
  const valued = options.filter(({ value }) => value !== null);
  return [
    ...(valued.length === 0
      ? []
      : ['case "$previous" in', ...valued.map((option) => `  ${option.flags.join("|")}) ${completed(option)} return ;;`), "esac"]),
    'if [[ "$current" == -* ]]; then',
    `  COMPREPLY=($(compgen -W '${options.flatMap(({ flags }) => flags).join(" ")}' -- "$current"))`,
    "else",
    words === null ? "  mapfile -t COMPREPLY < <(compgen -f -- " +
      `"$current")` : `  COMPREPLY=($(compgen -W '${words.join(" ")}' -- "$current"))`,
    "fi",
  ];
}

function completed({ value }: TypedOption): string {
  if (value === "file") return 'mapfile -t COMPREPLY < <(compgen -f -- "$current");';
  if (value === "directory") return 'mapfile -t COMPREPLY < <(compgen -d -- "$current");';
  if (value === "other" || value === null) return "";
  return `COMPREPLY=($(compgen -W '${value.join(" ")}' -- "$current"));`;
}
