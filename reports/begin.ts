import type { Io } from "./output/io.js";

/*
 * What an old Node reads before it is known to be too old: plain words of the language, and no import that is followed
 * at once, since what that Node cannot read or does not have would end it with words of its own.
 */

/** The oldest release that will do of each line of Node's releases; whatever is newer than the last will do, too. */
const FIT: readonly (readonly [major: number, minor: number])[] = [[20, 19], [22, 13], [24, 0]];

/** Why a Node of this version will not do, as a sentence; null when it will. */
export function unfitNode(version: string): string | null {
  const [major, minor] = version.split(".").map(Number) as [number, number];
  const fits = major > FIT[FIT.length - 1]![0] || FIT.some(([line, least]) => major === line && minor >= least);
  return fits ? null : "lampdrift needs Node 20.19, 22.13, 24 or newer, and this is Node " + version + "; https://nodejs.org has one";
}

/** What the pages and cards of the largest displays take of the heap, with something to spare, MB (measured). */
const HEAP_MB = 250;

/** Why a heap of this size is too small, as a sentence, since Node ends without one when it is full; null when it will do. */
export function smallHeap(bytes: number): string | null {
  const megabytes = Math.floor(bytes / 2 ** 20);
  if (megabytes >= HEAP_MB) return null;
  return `lampdrift needs ${HEAP_MB} MB of memory for its objects, and Node gives it ${megabytes} MB here; ` +
    `set NODE_OPTIONS=--max-old-space-size=${HEAP_MB}, or use a computer with more memory`;
}

type Main = (args: readonly string[], io: Io) => Promise<number>;

/** Runs a program around {@link Main} in this process; where Node will not do, or has too little memory, says what would. */
export function begin(program: (main: Main, io: Io) => Promise<number>): void {
  const unfit = unfitNode(process.versions.node);
  if (unfit !== null) refuse(unfit);
  else void go(program);
}

async function go(program: (main: Main, io: Io) => Promise<number>): Promise<void> {
  // should nothing be left to wait for before the end is reached, it is a fault
  process.exitCode = 3;
  const [v8, { main }, { processIo }] = await Promise.all([import("node:v8"), import("./main.js"), import("./output/io.js")]);
  const small = smallHeap(v8.getHeapStatistics().heap_size_limit);
  if (small === null) process.exitCode = await program(main, processIo());
  else refuse(small);
}

function refuse(why: string): void {
  process.stderr.write(why + "\n");
  process.exitCode = 2;
}
