import { mkdir, stat, writeFile } from "node:fs/promises";
import { basename, dirname, extname, join } from "node:path";
import writeAtomically from "write-file-atomic";
import { UsageError } from "./errors.js";

/**
 * Writes files into a directory, which is made where it is missing. Each file is written whole or not at all; call it
 * with finished contents only, so that nothing is written when something else goes wrong.
 */
export async function writeFiles(directory: string, files: ReadonlyMap<string, string>): Promise<void> {
  const facts = await stat(directory).catch(() => null);
  if (facts !== null && !facts.isDirectory()) throw new UsageError(`${directory}: this is a file; expected a directory to write into`);
  try {
    await makeDirectory(directory);
    for (const [name, content] of files) await writeAtomically(join(directory, name), content);
  } catch (error) {
    throw new UsageError(`cannot write into ${directory}: ${reason(error)}`);
  }
}

/** Where the report and the cards of a scenario go when nobody says where, so that they stand beside each other. */
export function directoryFor(file: string): string {
  return join("out", basename(file, extname(file)));
}

/** Writes one file that must not be there yet. */
export async function writeNew(path: string, content: string): Promise<void> {
  const fail = (error: unknown): never => {
    throw new UsageError(`cannot write ${path}: ${reason(error)}`);
  };
  await makeDirectory(dirname(path)).catch(fail);
  await writeFile(path, content, { flag: "wx" }).catch((error: unknown) => {
    if ((error as NodeJS.ErrnoException).code !== "EEXIST") fail(error);
    throw new UsageError(`${path} is there already and stays as it is; give another name`);
  });
}

/**
 * Makes a directory with those above it. The recursive mkdir of Node 20 tries for ever below a link to nowhere, or where
 * nothing can be made, since it does not notice that the parent is there already.
 */
async function makeDirectory(path: string): Promise<void> {
  const facts = await stat(path).catch(() => null);
  if (facts?.isDirectory()) return;
  const parent = dirname(path);
  if (parent !== path) await makeDirectory(parent);
  await mkdir(path);
}

/** Why the file system refused something, in plain words. */
export function reason(error: unknown): string {
  const { code } = error as NodeJS.ErrnoException;
  if (code === "EACCES" || code === "EPERM" || code === "EROFS") return "no permission";
  if (code === "ENOENT") return "there is no such directory";
  if (code === "ENOSPC") return "the disk is full";
  if (code === "ENOTDIR" || code === "EEXIST") return "a file stands where a directory is needed";
  if (code === "EISDIR") return "a directory stands where a file is needed";
  return code ?? "unknown reason";
}
