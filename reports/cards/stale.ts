/** Which sheets of a display a change of its scenario concerns, by their file names without ending. */
export interface Stale {
  /** To be printed again: drawn otherwise than before, or new. */
  readonly again: readonly string[];
  /** As they were. */
  readonly still: readonly string[];
  /** No longer among the cards. */
  readonly gone: readonly string[];
}

/** What is written on it by hand stays, whatever it was printed with. */
const LOG = "log.svg";

/** Compares the files of two sets of cards that carry the same digest and date, so that nothing but their contents can differ. */
export function staleCards(before: ReadonlyMap<string, unknown>, now: ReadonlyMap<string, unknown>): Stale {
  const sheets = (files: ReadonlyMap<string, unknown>): string[] => [...files.keys()].filter((name) => name.endsWith(".svg") && name !== LOG);
  const plain = (names: readonly string[]): string[] => names.map((name) => name.replace(/\.svg$/, ""));
  return {
    again: plain(sheets(now).filter((name) => before.get(name) !== now.get(name))),
    still: plain(sheets(now).filter((name) => before.get(name) === now.get(name))),
    gone: plain(sheets(before).filter((name) => !now.has(name))),
  };
}
