import type { Output } from "../output/io.js";
import { visible } from "../output/visible.js";
import { drawnTable, type TextTable } from "./table.js";
import { widthOf } from "./width.js";
import { wrapped } from "./wrap.js";

/** What is drawn for a width that it must keep, in characters that stay as they are. */
export interface Drawing {
  draw(width: number): string;
}

/** Text, of one line or several, a table or a drawing: what a command prints, before it is known how wide. */
export type Block = string | TextTable | Drawing;

/** Sentences in longer lines than this tire the eye, however wide the terminal. */
const PROSE = 100;

/** Prints blocks below each other, no line wider than the terminal, or than 80 columns where there is none. */
export function print(output: Output, blocks: readonly Block[]): void {
  output.write(`${laidOut(blocks, widthOf(output))}\n`);
}

/** Blocks below each other in lines of at most `width` columns. */
function laidOut(blocks: readonly Block[], width: number): string {
  const text = (block: Block): string => {
    if (typeof block === "string") return prose(block, Math.min(width, PROSE));
    return "draw" in block ? block.draw(width) : drawnTable(block, width);
  };
  return blocks.map(text).join("\n");
}

/** Lines of text, wrapped; what belongs to an item of a list, or to an indented line, is indented below it. */
function prose(text: string, width: number): string {
  return text
    .split("\n")
    .flatMap((line) => {
      const [, spaces = "", mark = ""] = /^( *)(- |\d+\. )?/.exec(line) ?? [];
      const below = mark !== "" ? mark.length : spaces === "" ? 0 : 2;
      return wrapped(visible(line), width, spaces.length + below);
    })
    .join("\n");
}
