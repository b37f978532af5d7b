import type { Output } from "../output/io.js";

/** Columns where nobody says how many there are: as many as mail and paper have. */
const USUAL = 80;
/** Below this nothing can be laid out that anybody could read. */
const LEAST = 20;

/** Columns that text may take: those of the terminal, or {@link USUAL} in a pipe and where the terminal does not say. */
export function widthOf({ isTTY = false, columns }: Output): number {
  return isTTY && columns !== undefined && columns > 0 ? Math.max(LEAST, columns) : USUAL;
}
