import { dirname, isAbsolute, join, posix, relative, resolve, sep } from "node:path";
import { withBaseNamed } from "../../sim/scenario/basename.js";
import { isOutside } from "../../sim/scenario/outside.js";
import { BASE_ANYWHERE } from "./command.js";

/**
 * The text of the scenario file `from` as it is written to `to`: its base is named as it is reached from there. With the
 * command that looks at it, which has to be allowed to read a base outside the new file's folder.
 */
export function placed(text: string, from: string, to: string): { readonly text: string; readonly check: string } {
  let option = "";
  const moved = withBaseNamed(text, from, (base) => {
    if (isOutside(dirname(to), resolve(dirname(from), base))) option = ` ${BASE_ANYWHERE}`;
    return isAbsolute(base) ? base : relative(dirname(to), join(dirname(from), base)).split(sep).join(posix.sep);
  });
  return { text: moved, check: `lampdrift check ${to}${option}` };
}
