import { Argument } from "commander";
import { bashCompletion } from "../completion/bash.js";
import { typedCommands, type TypedCommand } from "../completion/commandline.js";
import { fishCompletion } from "../completion/fish.js";
import { zshCompletion } from "../completion/zsh.js";
import { commandWithExample, type MakeCommand } from "./command.js";

const SHELLS: Readonly<Record<string, (commands: readonly TypedCommand[]) => string>> = {
  bash: bashCompletion,
  zsh: zshCompletion,
  fish: fishCompletion,
};

/** `lampdrift completion`: a script that lets a shell complete commands and options, made from the commands themselves. */
export const completionCommand: MakeCommand = ({ io, commands }) =>
  commandWithExample("completion", "lampdrift completion bash > ~/.local/share/bash-completion/completions/lampdrift")
    .addArgument(new Argument("<SHELL>", "the shell that it is for").choices(Object.keys(SHELLS)))
    .action(async (shell: string) => {
      io.stdout.write(SHELLS[shell]!(typedCommands(await commands())));
    });
