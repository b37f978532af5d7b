import type { TypedCommand, TypedOption } from "./commandline.js";

/** A completion script for zsh, for a file `_lampdrift` on its function path, or to be sourced. */
export function zshCompletion(commands: readonly TypedCommand[]): string {
  return [
    "#compdef lampdrift",
    "# lampdrift completion for zsh; to use it: source <(lampdrift completion zsh)",
    "_lampdrift() {",
    "  if (( CURRENT == 2 )); then",
    "    local -a commands=(",
    ...commands.map(({ name, description }) => `      ${quoted(`${name}:${description}`)}`),
    "    )",
    "    _describe command commands",
    "    return",
    "  fi",
    '  local command="$words[2]"',
    "  shift words",
    "  (( CURRENT-- ))",
    '  case "$command" in',
    ...commands.flatMap(({ name, options, words }) => [
      `    ${name})`,
      "      _arguments \\",
      ...options.flatMap((option) => option.flags.map((flag) => `        ${quoted(optionSpec(flag, option))} \\`)),
      `        ${quoted(words === null ? "*:file:_files" : `*:word:(${words.join(" ")})`)}`,
      "      ;;",
    ]),
    "  esac",
    "}",
    // as a file on the function path this is the body of the function, which the first completion calls
    'if [[ "$funcstack[1]" == _lampdrift ]]; then _lampdrift "$@"; else compdef _lampdrift lampdrift; fi',
    "",
  ].join("\n");
}

function optionSpec(flag: string, { description, value }: TypedOption): string {
  const text = `${flag}[${description.replace(/[[\]:]/g, "\\$&")}]`;
  if (value === null) return text;
  if (value === "file") return `${text}:file:_files`;
  if (value === "directory") return `${text}:directory:_files -/`;
  return value === "other" ? `${text}:value: ` : `${text}:value:(${value.join(" ")})`;
}

function quoted(text: string): string {
  return `'${text.replaceAll("'", "'\\''")}'`;
}
