import { open, rename, rm, type FileHandle } from "node:fs/promises";
import { draftBeside } from "./draft.js";
import { UsageError } from "./errors.js";
import { reason } from "./files.js";

/**
 * A long file that is written piece by piece beside its place, and put there when it is whole: what was there before stays
 * until then, and nothing half-written is left behind. Throws {@link UsageError} for what the file system refuses.
 */
export class NewFile {
  private constructor(
    private readonly path: string,
    private readonly draft: string,
    private readonly handle: FileHandle,
  ) {}

  static async open(path: string): Promise<NewFile> {
    try {
      const draft = await draftBeside(path);
      return new NewFile(path, draft, await open(draft, "wx"));
    } catch (error) {
      throw refused(path, error);
    }
  }

  async write(text: string): Promise<true> {
    await this.handle.writeFile(text).catch((error: unknown) => {
      throw refused(this.path, error);
    });
    return true;
  }

  /** Puts the whole file in its place. */
  async keep(): Promise<void> {
    try {
      await this.handle.sync();
      await this.handle.close();
      await rename(this.draft, this.path);
    } catch (error) {
      throw refused(this.path, error);
    }
  }

  async discard(): Promise<void> {
    await this.handle.close().catch(() => undefined);
    await rm(this.draft, { force: true }).catch(() => undefined);
  }
}

function refused(path: string, error: unknown): UsageError {
  return new UsageError(`cannot write ${path}: ${reason(error)}`);
}
