import { readFile } from "node:fs/promises";
import { writeNew } from "../output/files.js";
import { visibleLines } from "../output/table.js";
import { commandWithExample, type MakeCommand } from "./command.js";

const starter = new URL("../../../scenarios/starter.yaml", import.meta.url);

/** `lampdrift new`: a commented scenario to start from. */
export const newCommand: MakeCommand = () =>
  commandWithExample("new", "write a commented starter scenario; never overwrites", "lampdrift new harbour.yaml")
    .argument("[FILE]", "file to write", "display.yaml")
    .action(async (file: string) => {
      await writeNew(file, await readFile(starter, "utf8"));
      process.stderr.write(visibleLines(`wrote ${file}; change it, then try: lampdrift check ${file}\n`));
    });
