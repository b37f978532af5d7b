import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { missing } from "../programs.js";
import { often } from "../thorough.js";
import { program, scratch } from "./command.js";
import { lampdrift } from "./inprocess.js";

/* The scripts, loaded by the shells that they are for. */

const root = await scratch();
await mkdir(join(root, "drawings"));
for (const name of ["harbour.yaml", "my file.yaml"]) await writeFile(join(root, name), "");
// in this directory zsh finds functions by the names of their files
await mkdir(join(root, "functions"));
for (const shell of ["bash", "zsh", "fish"]) {
  const { status, stdout } = await lampdrift(["completion", shell]);
  if (status !== 0) throw new Error(`completion ${shell} ended with ${status}`);
  await writeFile(join(root, `script.${shell}`), stdout);
  if (shell === "zsh") await writeFile(join(root, "functions/_lampdrift"), stdout);
}

/** What the help names is the oracle: commands, and the long options of one of them. */
const commands = [...(await lampdrift(["--help"])).stdout.split("\nCommands:\n")[1]!.matchAll(/^ {2}([a-z]+)/gm)].map(([, name]) => name!);
const optionsOf = async (command: string): Promise<string[]> => {
  const listed = (await lampdrift([command, "--help"])).stdout.split("\nOptions:\n")[1]!.split("\n\n")[0]!;
  return [...listed.matchAll(/^ {2}(?:-\w, )?(--[\w-]+)/gm)].map(([, name]) => name!);
};

/** Lines as they are when Tab is pressed, and what can stand in place of the last word. */
const lines: readonly [words: readonly string[], candidates: readonly string[]][] = [
  [["c"], commands.filter((name) => name.startsWith("c"))],
  [["exp"], ["export"]],
  [["export", "--"], await optionsOf("export")],
  [["report", "--"], await optionsOf("report")],
  [["fault", "--"], await optionsOf("fault")],
  [["export", "--as", ""], ["csv", "json", "vcd"]],
  [["export", "harbour.yaml", "--as", "v"], ["vcd"]],
  [["completion", ""], ["bash", "fish", "zsh"]],
  [["export", "har"], ["harbour.yaml"]],
  [["check", "my"], ["my file.yaml"]],
  [["export", "--out", "har"], ["harbour.yaml"]],
  [["report", "-o", "dr"], ["drawings"]],
  [["report", "-o", "har"], []],
];

const sorted = (candidates: readonly string[]): string[] => [...candidates].sort();
const typed = (words: readonly string[]): string => `lampdrift ${words.join(" ")}`;

test("the help names what the shells are to complete", () => {
  expect(commands.length).toBeGreaterThan(12);
  for (const [words, candidates] of lines) if (words[1] === "--") expect(candidates.length).toBeGreaterThan(3);
});

describe("bash", () => {
  // readline calls the function that is registered, with the words of the line and the number of the one at the cursor
  const press = `
source "$0"
name=$(complete -p lampdrift | sed 's/.*-F \\([^ ]*\\) .*/\\1/')
COMP_WORDS=("$@")
COMP_CWORD=$(($# - 1))
"$name" lampdrift "\${COMP_WORDS[COMP_CWORD]}" "\${COMP_WORDS[COMP_CWORD - 1]}"
for candidate in "\${COMPREPLY[@]}"; do printf '%s\\n' "$candidate"; done`;

  test.each(lines)("%j", async (words, candidates) => {
    const { status, stdout, stderr } = await program("bash", ["--norc", "-c", press, join(root, "script.bash"), "lampdrift", ...words], { cwd: root });
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    expect(sorted(stdout.split("\n").filter((line) => line !== ""))).toEqual(sorted(candidates));
  });
});

describe("fish", () => {
  const noFish = missing("fish");
  test("completes every line", async ({ skip }) => {
    skip(noFish !== false, String(noFish));
    const ask = lines.map(([words]) => `echo "== "; complete -C '${typed(words)}'`).join("\n");
    const { status, stdout, stderr } = await program("fish", ["-N", "-c", `source script.fish\n${ask}`], { cwd: root, env: { HOME: root } });
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    const answers = stdout.split("== \n").slice(1);
    expect(answers).toHaveLength(lines.length);
    lines.forEach(([words, candidates], i) => {
      const found = answers[i]!.split("\n").filter((line) => line !== "").map((line) => line.split("\t")[0]!.replace(/\/$/, "").replaceAll("\\ ", " "));
      expect(sorted(found), typed(words)).toEqual(sorted(candidates));
    });
  });
});

describe("zsh", () => {
  const noZsh = missing("zsh");
  /** A shell on a terminal of its own: for every line Tab is pressed, then a key that tells the line as it stands and empties it. */
  const press = (load: string, lines: readonly string[]): string => `
zmodload zsh/zpty
zpty shell zsh -f -i
zpty -w shell 'PS1=; ${load}; tell() { print -r -- "<<$BUFFER>>"; BUFFER= }; zle -N tell; bindkey "^X" tell; print REA""DY'
zpty -r -m shell before '*READY*'
for line in ${lines.map((line) => JSON.stringify(line)).join(" ")}; do
  zpty -w -n shell "$line"$'\t\x18'
  zpty -r -m shell after '*>>*'
  print -r -- "$after"
done
zpty -d shell`;

  const single = lines.flatMap(([words, candidates]) => (candidates.length === 1 ? [{ words, candidate: candidates[0]! }] : []));
  const loaded = [
    ["found by its name", "fpath=(./functions $fpath); autoload -Uz compinit; compinit -u -D"],
    ["sourced", "autoload -Uz compinit; compinit -u -D; source ./script.zsh"],
  ] as const;
  test.for(loaded.slice(0, often(1, 2)))("%s, completes every line that has one end", async ([, load], { skip }) => {
    skip(noZsh !== false, String(noZsh));
    const { status, stdout } = await program("zsh", ["-f", "-c", press(load, single.map(({ words }) => typed(words)))], { cwd: root, env: { HOME: root, TERM: "dumb" } });
    expect(status).toBe(0);
    const told = Array.from(stdout.matchAll(/<<(.*)>>/g), ([, line]) => line!.trimEnd().replace(/\/$/, "").replaceAll("\\ ", " "));
    expect(told).toEqual(single.map(({ words, candidate }) => typed([...words.slice(0, -1), candidate])));
  });
});
