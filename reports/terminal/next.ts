import type { Output } from "../output/io.js";
import { print } from "./layout.js";

/** One line on what to do next; only for a person at a terminal, never in what a program reads. */
export function tellNext(output: Output, sentence: string): void {
  if (output.isTTY === true) print(output, ["", `Next: ${sentence}`]);
}
