import { readFile, realpath, stat } from "node:fs/promises";
import { isAbsolute, join } from "node:path";
import type { Picture } from "../model/picture.js";
import { isOutside } from "./outside.js";
import { PICTURE_LIMIT, pictureFacts, tooLarge } from "./picture.js";
import { whyUnreadable } from "./unreadable.js";

const OUTSIDE = "expected the name of a picture beside the scenario file, or in a folder below it";

/**
 * The picture that a scenario in `folder` names; a text that says why not where it cannot be taken. Since a report carries it to
 * others, nothing outside of that folder is taken, by way of a link neither, and nothing that is no picture.
 */
export async function readPicture(folder: string, name: string): Promise<Picture | string> {
  const path = join(folder, name);
  if (isAbsolute(name) || isOutside(folder, path)) return OUTSIDE;
  try {
    const real = await realpath(path);
    if (isOutside(await realpath(folder), real)) return `${OUTSIDE}; ${path} is a link to another place`;
    const facts = await stat(real);
    const kind = facts.isDirectory() ? "a directory" : "no regular file";
    if (!facts.isFile()) return `expected a JPEG, PNG or SVG picture; ${path} is ${kind}`;
    if (facts.size > PICTURE_LIMIT) return tooLarge(facts.size);
    const bytes = new Uint8Array(await readFile(real));
    const found = pictureFacts(bytes);
    return typeof found === "string" ? found : { name, bytes, ...found };
  } catch (error) {
    return `expected a JPEG, PNG or SVG picture; ${path}: ${whyUnreadable(error)}`;
  }
}
