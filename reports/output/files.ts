import { link, mkdir, rename, rm, stat, writeFile } from "node:fs/promises";
import { basename, dirname, extname, join } from "node:path";
import { draftBeside } from "./draft.js";
import { UsageError } from "./errors.js";

/** Writes one file, whole or not at all, over an older one; a link in its place is replaced, not followed. */
export async function writeOver(path: string, content: string): Promise<void> {
  await writeBeside(path, content, rename);
}

/** Where the report and the cards of a scenario go when nobody says where, so that they stand beside each other. */
export function directoryFor(file: string): string {
  return join("out", basename(file, extname(file)));
}

/** Writes one file that must not be there yet, whole or not at all. */
export async function writeNew(path: string, content: string): Promise<void> {
  await writeBeside(path, content, async (draft, place) => {
    await link(draft, place).catch((error: unknown) => {
      if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
      throw new UsageError(`${path} is there already and stays as it is; give another name`);
    });
  });
}

/** Writes a draft beside a place and puts it there; the draft is gone afterwards, however it ends. */
async function writeBeside(path: string, content: string, put: (draft: string, place: string) => Promise<void>): Promise<void> {
  let draft: string | null = null;
  try {
    await makeDirectory(dirname(path));
    draft = await draftBeside(path);
    await writeFile(draft, content, { flag: "wx", flush: true });
    await put(draft, path);
  } catch (error) {
    throw error instanceof UsageError ? error : new UsageError(`cannot write ${path}: ${reason(error)}`);
  } finally {
    if (draft !== null) await rm(draft, { force: true }).catch(() => undefined);
  }
}

/**
 * Makes a directory with those above it. The recursive mkdir of Node 20 tries for ever below a link to nowhere, or where
 * nothing can be made, since it does not notice that the parent is there already.
 */
export async function makeDirectory(path: string): Promise<void> {
  const facts = await stat(path).catch(() => null);
  if (facts?.isDirectory()) return;
  const parent = dirname(path);
  if (parent !== path) await makeDirectory(parent);
  await mkdir(path).catch(async (error: unknown) => {
    // another one may have made it in the meantime
    if (!(await stat(path).catch(() => null))?.isDirectory()) throw error;
  });
}

/** Why the file system refused something, in plain words. */
export function reason(error: unknown): string {
  const { code } = error as NodeJS.ErrnoException;
  if (code === "EACCES" || code === "EPERM" || code === "EROFS") return "no permission";
  if (code === "ENOENT") return "there is no such directory";
  if (code === "ENOSPC") return "the disk is full";
  if (code === "ENOTDIR" || code === "EEXIST") return "a file stands where a directory is needed";
  if (code === "EFBIG") return "the file would be larger than the system allows";
  if (code === "EISDIR") return "a directory stands where a file is needed";
  return code ?? "unknown reason";
}
