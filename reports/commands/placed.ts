import { dirname, isAbsolute, join, posix, relative, resolve, sep } from "node:path";
import { withBaseNamed } from "../../sim/scenario/basename.js";
import { BASE_ANYWHERE } from "./command.js";

/**
 * The text of the scenario file `from` as it is written to `to`: its base is named as it is reached from there. With the
 * command that looks at it, which has to be allowed to read a base outside the new file's folder.
 */
export function placed(text: string, from: string, to: string): { readonly text: string; readonly check: string } {
  const outside: string[] = [];
  const moved = withBaseNamed(text, from, (base) => {
    const way = relative(dirname(to), resolve(dirname(from), base));
    if (way.startsWith(`..${sep}`) || isAbsolute(way)) outside.push(way);
    return isAbsolute(base) ? base : relative(dirname(to), join(dirname(from), base)).split(sep).join(posix.sep);
  });
  return { text: moved, check: ["lampdrift check", to, ...(outside.length > 0 ? [BASE_ANYWHERE] : [])].join(" ") };
}
