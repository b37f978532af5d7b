import { DRIVERS } from "../parts/drivers.js";
import { driverPackages } from "../parts/packages.js";
import type { Board } from "../model/scenario.js";
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

/** The index of the house or board that is meant: by id, or by the name that cards and pictures show, where one alone has it; else -1. */
export function indexNamed(among: readonly { readonly id: string; readonly name?: string }[], name: string): number {
  const index = among.findIndex(({ id }) => id === name);
  if (index >= 0) return index;
  const called = among.flatMap((one, i) => (one.name?.toLowerCase() === name.toLowerCase() ? [i] : []));
  return called.length === 1 ? called[0]! : -1;
}
