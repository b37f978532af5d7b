import { DRIVERS } from "../parts/drivers.js";
import { driverPackages } from "../parts/packages.js";
import type { Board } from "../model/scenario.js";
import { knownWords } from "../scenario/problems.js";
import { listed, upTo } from "../units/text.js";

/** The driver channel of an output: "package 1, channel 4", or "driver 4" where each output has its own. */
export function channelName(board: Board, output: number): string {
  const packages = driverPackages(board);
  const place = packages.findIndex((outputs) => outputs.includes(output));
  const driver = driverName(board, place);
  return DRIVERS[board.driver.kind].channelsInPackage === 1 ? driver : `${driver}, channel ${packages[place]!.indexOf(output) + 1}`;
}

/** "package 1", or "driver 4" where each output has its own. */
export function driverName({ driver }: Board, place: number): string {
  return `${DRIVERS[driver.kind].channelsInPackage === 1 ? "driver" : "package"} ${place + 1}`;
}

/** Items that a list spells out. */
const LISTED = 8;

/** "a, b and c"; of a long list the first, and how many more there are. */
export function listing(items: readonly string[]): string {
  return listed(upTo(items, LISTED, LISTED - 2));
}

interface Named {
  readonly id: string;
  readonly name?: string;
}

/** The houses or boards that a text may mean: the one whose id it is, else all that cards and pictures call so. */
export function meantBy(text: string, among: readonly Named[]): readonly number[] {
  const index = among.findIndex(({ id }) => id === text);
  if (index >= 0) return [index];
  const plain = text.toLowerCase();
  return among.flatMap(({ id, name }, i) => (name?.toLowerCase() === plain || `${name} (${id})`.toLowerCase() === plain ? [i] : []));
}

/** What is said of a text that means none of them, or several. */
export function unclear(text: string, what: "house" | "board", among: readonly Named[], meant: readonly number[]): string {
  const ids = (meant.length > 0 ? meant.map((i) => among[i]!) : among).map(({ id }) => id);
  if (meant.length > 0) {
    return `${ids.length} ${what}s are called "${text}"; say by its id which one: ${listed(upTo(ids, LISTED, LISTED - 2), "or")}`;
  }
  return `there is no ${what} "${text}"; ${knownWords(text, ids, `${what}s`)}`;
}
