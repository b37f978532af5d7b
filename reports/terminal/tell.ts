import type { Output } from "../output/io.js";
import { visible } from "../output/visible.js";
import { widthOf } from "./width.js";
import { wrapped } from "./wrap.js";

/** Spaces before what goes on from the line above, so that each message can be told from the next. */
const HANG = 2;

/** Says something that is no result, of one line or several, no wider than {@link print} prints; a file's name stays in one piece. */
export function tell(output: Output, text: string): void {
  const width = widthOf(output);
  output.write(`${text.split("\n").flatMap((line) => wrapped(visible(line), width, HANG, "whole words")).join("\n")}\n`);
}
