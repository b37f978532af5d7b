import { isAlias, isMap, isScalar, type Document, type Pair, type Scalar, type YAMLMap } from "yaml";
import { InputError } from "../errors.js";

/** Changes to the text of a scenario file that leave every other byte, and so every comment, as it is. */

export type Path = readonly string[];
type ScalarPair = Pair<Scalar, Scalar>;

/** Puts text in the place of what stands between two offsets. */
export interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** The text after edits that do not overlap. */
export function applied(text: string, edits: readonly Edit[]): string {
  return [...edits].sort((a, b) => b.start - a.start).reduce((all, edit) => all.slice(0, edit.start) + edit.text + all.slice(edit.end), text);
}

/** Where a single value stands. */
export function spanOf({ range }: Scalar): { start: number; end: number } {
  return { start: range![0], end: range![1] };
}

/** Column of an offset, from 0. */
export function columnOf(text: string, offset: number): number {
  return offset - (text.lastIndexOf("\n", offset - 1) + 1);
}

/**
 * Key and value at a path; null where there is none. Throws {@link InputError} where an alias stands on the way, since
 * what is behind it is shared: `why` completes "write it out, so that …".
 */
export function pairAt(document: Document, path: Path, file: string, why: string): Pair | null {
  let node: unknown = document.contents;
  for (const [depth, key] of path.entries()) {
    if (isAlias(node)) {
      throw new InputError(`${file}: ${path.slice(0, depth).join(".")} stands behind an alias (*${node.source}); write it out, so ` +
        `that ${why}`);
    }
    if (!isMap(node)) return null;
    const pair = node.items.find((item) => isScalar(item.key) && String(item.key.value) === key);
    if (pair === undefined) return null;
    if (depth === path.length - 1) return pair;
    node = pair.value;
  }
  return null;
}

/** As {@link pairAt}, for a single value; null where something else stands. */
export function scalarAt(document: Document, path: Path, file: string, why: string): ScalarPair | null {
  const pair = pairAt(document, path, file, why);
  return isScalar(pair?.value) ? (pair as ScalarPair) : null;
}

/** Whether the mapping at a path is written in braces. */
export function isInFlow(document: Document, path: Path): boolean {
  return (document.getIn(path, true) as YAMLMap | undefined)?.flow === true;
}
