import { readFile } from "node:fs/promises";
import { writeNew } from "../output/files.js";
import { shippedFile } from "../output/shipped.js";
import { tell } from "../terminal/tell.js";
import { commandWithExample, type MakeCommand } from "./command.js";
import { nameFrom } from "./options.js";

/** `lampdrift new`: a commented scenario to start from. */
export const newCommand: MakeCommand = ({ io }) =>
  commandWithExample("new", "lampdrift new harbour.yaml")
    .argument("[FILE]", "file to write", nameFrom, "display.yaml")
    .action(async (file: string) => {
      await writeNew(file, await readFile(shippedFile("scenarios/starter.yaml"), "utf8"));
      tell(io.stderr, `wrote ${file}; change it, then try: lampdrift check ${file}`);
    });
