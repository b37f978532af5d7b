import { createHash, randomBytes } from "node:crypto";
import { renameSync } from "node:fs";
import { lstat, mkdir, open, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { isGone } from "./draft.js";
import { UsageError } from "./errors.js";
import { makeDirectory, reason } from "./files.js";

/** What makes the files of a folder; each kind replaces its own files alone. */
export type Making = "report" | "cards" | "compare";

/** Which files were made together, with their digests: written last, so that what is in it is whole. */
const MANIFEST = ".made.json";
const LOCK = ".making";
/** Holds a making that is whole and not yet, or not yet all, in its place. */
const READY = ".ready";
const DRAFT = /^\.draft-[0-9a-f]{12}$/;
/** How long another one at the same folder may take. */
const PATIENCE = 60_000;
const POLL = 50;

type Manifest = Partial<Record<Making, Readonly<Record<string, string>>>>;

/**
 * Writes the files of one making into a directory, which is made where it is missing. All are written beside their places
 * first and then put there in one go, `index.html` behind the others; files of an earlier making that this one does not
 * have go. Two at once take turns. A link in the place of a file is replaced, not followed. What a killed one left behind
 * is taken away, or put in its place where it was whole. Throws {@link UsageError} for what the file system refuses; then the
 * earlier making is still there.
 */
export async function writeFolder(directory: string, making: Making, files: ReadonlyMap<string, string | Uint8Array>): Promise<void> {
  if (directory.trim() === "") throw new UsageError("the name of the directory to write into is empty; give one, such as out/display");
  const facts = await stat(directory).catch(() => null);
  if (facts !== null && !facts.isDirectory()) throw new UsageError(`${directory}: this is a file; expected a directory to write into`);
  try {
    await makeDirectory(directory);
    const unlock = await locked(directory);
    try {
      await clearDrafts(directory);
      await finish(directory).catch(() => rm(join(directory, READY), { recursive: true, force: true }));
      await putAll(directory, making, files);
    } finally {
      await unlock();
    }
  } catch (error) {
    throw error instanceof UsageError ? error : new UsageError(`cannot write into ${directory}: ${reason(error)}`);
  }
}

async function putAll(directory: string, making: Making, files: ReadonlyMap<string, string | Uint8Array>): Promise<void> {
  const draft = draftIn(directory);
  await mkdir(draft);
  try {
    for (const [name, content] of files) await writeFile(join(draft, name), content, { flush: true });
    const before = await readManifest(directory);
    const digests = Object.fromEntries([...files].map(([name, content]) => [name, createHash("sha256").update(content).digest("hex")]));
    await writeFile(join(draft, MANIFEST), `${JSON.stringify({ ...before, [making]: digests }, null, 1)}\n`, { flush: true });
    for (const name of files.keys()) {
      const place = await stat(join(directory, name)).catch(() => null);
      if (place?.isDirectory()) throw new UsageError(`cannot write into ${directory}: a directory stands where a file is needed, ${name}`);
    }
    await rename(draft, join(directory, READY));
  } finally {
    await rm(draft, { recursive: true, force: true });
  }
  await finish(directory);
}

/**
 * Puts what is ready in its place, at one go, so that hardly ever something comes between; the manifest is the last, so that
 * whoever finds something ready can tell what is still to do.
 */
async function finish(directory: string): Promise<void> {
  const ready = join(directory, READY);
  // a link in its place is none of ours
  if (!(await lstat(ready).catch(() => null))?.isDirectory()) return;
  const [before, now] = [await readManifest(directory), await readManifest(ready)];
  const kinds = Object.keys(now) as Making[];
  const stale = kinds.flatMap((kind) => Object.keys(before[kind] ?? {}).filter((name) => now[kind]![name] === undefined));
  const there = new Set(await readdir(ready));
  const others = new Set(kinds.flatMap((kind) => Object.keys(now[kind]!)).filter((name) => name !== "index.html"));
  const names = [...others, "index.html", MANIFEST].filter((name) => there.has(name));
  const aside = draftIn(directory);
  await mkdir(aside);
  // a hundred times as fast as to put one file over another, for which file systems wait until it is on the disk
  for (const name of [...stale, ...names]) {
    putAside(join(directory, name), join(aside, name));
    if (there.has(name)) renameSync(join(ready, name), join(directory, name));
  }
  await rm(ready, { recursive: true, force: true });
  await rm(aside, { recursive: true, force: true });
}

function putAside(place: string, aside: string): void {
  try {
    renameSync(place, aside);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOENT") throw error;
  }
}

function draftIn(directory: string): string {
  return join(directory, `.draft-${randomBytes(6).toString("hex")}`);
}

/** What was made before; nothing where the manifest is not there or not ours. */
async function readManifest(directory: string): Promise<Manifest> {
  try {
    const found = JSON.parse(await readFile(join(directory, MANIFEST), "utf8")) as unknown;
    if (typeof found !== "object" || found === null) return {};
    // a name that leads elsewhere is none of ours
    const plain = (files: unknown): Record<string, string> =>
      Object.fromEntries(Object.entries(files ?? {}).filter(([name]) => /^[\w.-]+$/.test(name) && !name.startsWith(".")));
    return Object.fromEntries(Object.entries(found).map(([kind, files]) => [kind, plain(files)]));
  } catch {
    return {};
  }
}

async function clearDrafts(directory: string): Promise<void> {
  const names = await readdir(directory);
  for (const name of names) if (DRAFT.test(name)) await rm(join(directory, name), { recursive: true, force: true });
}

/** Waits until no other process writes into a directory, and keeps others out until the function it gives is called. */
async function locked(directory: string): Promise<() => Promise<void>> {
  const lock = join(directory, LOCK);
  for (let waited = 0; ; waited += POLL) {
    try {
      const handle = await open(lock, "wx");
      await handle.writeFile(String(process.pid));
      await handle.close();
      return () => rm(lock, { force: true });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
    }
    if (await isLeftOver(lock)) await rm(lock, { force: true });
    else if (waited >= PATIENCE) throw new UsageError(`another lampdrift is writing into ${directory}; try again when it is done, or ` +
      `delete ${lock}`);
    else await sleep(POLL);
  }
}

/** Whether the process that made a lock is gone. */
async function isLeftOver(lock: string): Promise<boolean> {
  const facts = await stat(lock).catch(() => null);
  if (facts === null) return false;
  const pid = Number(await readFile(lock, "utf8").catch(() => ""));
  // still empty: its maker is between two lines, or was ended there
  if (!Number.isInteger(pid) || pid <= 0) return Date.now() - facts.mtimeMs > 2000;
  return isGone(pid);
}
