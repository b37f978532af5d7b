import Table from "cli-table3";
import { visible } from "./visible.js";

/** A plain table for a terminal: a heading, a line, rows. Columns whose heading starts with ">" are right-aligned. */
export function textTable(headings: readonly string[], rows: readonly (readonly string[])[]): string {
  const none = Object.fromEntries(
    ["top", "top-mid", "top-left", "top-right", "bottom", "bottom-mid", "bottom-left", "bottom-right"].map((at) => [at, ""]),
  );
  const table = new Table({
    head: headings.map((heading) => heading.replace(/^>/, "")),
    colAligns: headings.map((heading) => (heading.startsWith(">") ? "right" : "left")),
    chars: { ...none, left: "", "left-mid": "", mid: "", "mid-mid": "", right: "", "right-mid": "", middle: "  " },
    style: { head: [], border: [], "padding-left": 0, "padding-right": 0 },
  });
  table.push(...rows.map((row) => row.map(visible)));
  return table
    .toString()
    .split("\n")
    .map((line) => line.trimEnd())
    .filter((line) => line !== "")
    .join("\n");
}
