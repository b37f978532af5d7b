import { statSync } from "node:fs";
import { resolve } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";

/** How often files are looked at, ms. By looking, since not every disk (shared folders, network drives) tells what changes on it. */
const POLL = 150;

/** Files that were read, each as it was just before: what happens to it from then on is a change. */
export class WatchedFiles {
  readonly #marks = new Map<string, string>();

  /** To be called just before a file is read, whether or not it is there. */
  note(path: string): void {
    const place = resolve(path);
    if (!this.#marks.has(place)) this.#marks.set(place, markOf(place));
  }

  /**
   * Resolves when one of the files is not as it was when noted: written, replaced, removed, made. Waits until nothing
   * changes any more, so that an editor has written all of it. Resolves, too, when the signal is given.
   */
  async changed(signal: AbortSignal): Promise<void> {
    const noted = [...this.#marks.values()].join("\n");
    for (let before = noted; !signal.aborted; ) {
      await sleep(POLL, undefined, { signal }).catch(() => undefined);
      const now = Array.from(this.#marks.keys(), markOf).join("\n");
      if (now !== noted && now === before) return;
      before = now;
    }
  }
}

/** What tells one state of a file from another; a link stands for what it leads to. */
function markOf(path: string): string {
  try {
    const facts = statSync(path, { bigint: true, throwIfNoEntry: false });
    if (facts === undefined) return "none";
    const { dev, ino, size, mtimeNs, ctimeNs } = facts;
    return [dev, ino, size, mtimeNs, ctimeNs].join(" ");
  } catch (error) {
    return `out of reach: ${(error as NodeJS.ErrnoException).code ?? "unknown"}`;
  }
}
