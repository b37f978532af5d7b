import { join } from "node:path";
import type { Io } from "../output/io.js";
import { tell } from "../terminal/tell.js";
import { counted } from "../words.js";

/** Says which page was written into a folder, and how many of its files lie beside it. */
export function tellWritten({ stderr }: Io, folder: string, page: string, files: ReadonlyMap<string, unknown>): void {
  tell(stderr, `wrote ${join(folder, page)} and ${counted(files.size - 1, "file")} beside it`);
}
