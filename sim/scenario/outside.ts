import { isAbsolute, relative, sep } from "node:path";

/** Whether a path leads out of a folder, by its name alone. */
export function isOutside(folder: string, path: string): boolean {
  const way = relative(folder, path);
  return way === ".." || way.startsWith(`..${sep}`) || isAbsolute(way);
}
