import { readdir, rm } from "node:fs/promises";
import { basename, dirname, join } from "node:path";

/** A draft's name ends with the process that writes it, so that what a killed one left behind is known for that. */
const DRAFT = /^\..+\.(\d+)-[0-9a-f]{12}\.part$/;

/** A name for a draft beside the place that the file is for; drafts that killed ones have left there are taken away. */
export async function draftBeside(path: string): Promise<string> {
  const folder = dirname(path);
  for (const name of await readdir(folder)) {
    const maker = DRAFT.exec(name)?.[1];
    if (maker !== undefined && isGone(Number(maker))) await rm(join(folder, name), { force: true });
  }
  // loaded here, since it takes longer than all else that a command loads that writes nothing
  const { randomBytes } = await import("node:crypto");
  return join(folder, `.${basename(path)}.${process.pid}-${randomBytes(6).toString("hex")}.part`);
}

/** Whether no process has this number any more. */
export function isGone(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return false;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "ESRCH";
  }
}
