/**
 * Slips of the keyboard from one word to another: a letter too many, too few or another, or two that changed places. The
 * optimal string alignment distance: F. J. Damerau, "A technique for computer detection and correction of spelling errors",
 * Communications of the ACM 7 (1964) 171-176, from memory; worked out row by row.
 */
export function wordSlips(a: string, b: string): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const other = a[i - 1] === b[j - 1] ? 0 : 1;
      const swapped = a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1] ? before[j - 2]! + 1 : Infinity;
      next.push(Math.min(next[j - 1]! + 1, row[j]! + 1, row[j - 1]! + other, swapped));
    }
    [before, row] = [row, next];
  }
  return row.at(-1)!;
}
