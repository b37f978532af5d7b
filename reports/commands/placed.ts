import { basename, dirname, isAbsolute, join, posix, relative, resolve, sep } from "node:path";
import { withFileNamed } from "../../sim/scenario/filenames.js";
import { isOutside } from "../../sim/scenario/outside.js";
import { BASE_ANYWHERE } from "./command.js";

/** A scenario file as it is written to another place. */
export interface Placed {
  readonly text: string;
  /** What to do next, from the copying of a picture that the new place does not reach to the command that looks at the file. */
  readonly next: string;
}

/**
 * The text of the scenario file `from` as it is written to `to`: its base and its picture are named as they are reached from
 * there. A base outside the new file's folder has to be allowed to the command that looks at it; a picture cannot lie there.
 */
export function placed(text: string, from: string, to: string): Placed {
  const [old, folder] = [resolve(dirname(from)), resolve(dirname(to))];
  const seen = (name: string): string => (isAbsolute(name) ? name : relative(folder, join(old, name)).split(sep).join(posix.sep));
  let [option, copy] = ["", ""];
  const moved = withFileNamed(text, from, "base", (base) => {
    if (isOutside(folder, resolve(old, base))) option = ` ${BASE_ANYWHERE}`;
    return seen(base);
  });
  const pictured = withFileNamed(moved, from, "picture", (picture) => {
    if (!isOutside(folder, resolve(old, picture))) return seen(picture);
    const beside = basename(picture);
    copy = `copy ${join(dirname(from), picture)} to ${join(dirname(to), beside)}, since a picture lies beside its scenario, then `;
    return beside;
  });
  return { text: pictured, next: `${copy}try: lampdrift check ${to}${option}` };
}
