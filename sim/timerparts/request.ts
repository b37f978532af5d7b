import { InputError } from "../errors.js";
import type { ChipKind } from "../model/timer.js";
import { CHIP_KINDS, TIMER_CHIPS } from "../parts/chips.js";
import { knownWords } from "../scenario/problems.js";
import type { SeriesName } from "../units/eseries.js";
import { readDurationRange, type DurationRange } from "../units/durationrange.js";
import { celsius, duration, volts } from "../units/quantities.js";
import type { Stock } from "./stock.js";

/** Two ends, the smaller first. */
export interface Range {
  readonly from: number;
  readonly to: number;
}

/** What the timer should do. Times in seconds, supply in volts, room in °C. */
export interface PartsRequest {
  /** Step times that the knob must reach. */
  readonly range: Range;
  /** Step times that will really be set; default: the whole range. */
  readonly wanted?: Range | undefined;
  /** Default 12. */
  readonly supply?: number | undefined;
  /** A chip as in a scenario, or ideal; default cmos. */
  readonly chip?: string | undefined;
  /** Series of the fixed resistors; default E12. Not used with a stock. */
  readonly series?: string | undefined;
  /** Parts to choose from; default: what shops keep. */
  readonly stock?: Stock | undefined;
  /** Whether a divider between timer and counter may be chosen; default yes. */
  readonly divider?: boolean | undefined;
  /** Temperatures at which the range must still be reached; default 0 to 40 °C. */
  readonly room?: Range | undefined;
}

/** A timer chip as a scenario names it, or one without any error. */
export type ChipName = ChipKind | "ideal";

/** A request with its defaults filled in. */
export interface FullRequest {
  readonly range: Range;
  readonly wanted: Range;
  readonly supply: number;
  readonly chip: ChipName;
  readonly series: SeriesName;
  readonly stock: Stock | null;
  readonly divider: boolean;
  readonly room: Range;
}

/** A request for timer parts that cannot be answered as it stands; the message says what would do. */
export class PartsRequestError extends InputError {
  override readonly name = "PartsRequestError";

  constructor(
    /** Which part of the request is meant; `reach`: no knob reaches that far. */
    readonly about: "range" | "wanted" | "supply" | "chip" | "series" | "stock" | "room" | "reach",
    message: string,
  ) {
    super(message);
  }
}

/** Shortest and longest step time that a scenario can have, seconds. */
const SHORTEST = 1e-3;
const LONGEST = 1e7;

const CHIPS = [...CHIP_KINDS, "ideal"] as const;
const SERIES = ["E3", "E6", "E12", "E24", "E48", "E96", "E192"] as const;

const rangeAccepted = 'expected two durations with their units such as "30 s..6 min" or "2-4 min"';

/** Reads "30 s..6 min" as seconds. Throws {@link PartsRequestError} about `about`, also when it runs backwards. */
export function parseRange(text: string, about: "range" | "wanted"): DurationRange {
  const range = readDurationRange(text);
  if (range === null) throw new PartsRequestError(about, `the ${about} ${quoted(text)} is not understood; ${rangeAccepted}`);
  return { ...checkedTimes(range, about), shared: range.shared };
}

/** The request with its defaults. Throws {@link PartsRequestError} for anything that makes no sense. */
export function fullRequest(request: PartsRequest): FullRequest {
  const range = checkedTimes(request.range, "range");
  const wanted = checkedTimes(request.wanted ?? range, "wanted");
  if (wanted.from < range.from || wanted.to > range.to) {
    throw new PartsRequestError("wanted", `the wanted times ${spokenRange(wanted)} go beyond the range ${spokenRange(range)}; widen ` +
      "the range");
  }
  const chip = oneOf(CHIPS, request.chip ?? "cmos", "chip", "chips");
  const series = oneOf(SERIES, request.series ?? "E12", "series", "series");
  const supply = checkedSupply(request.supply ?? 12, chip);
  const room = request.room ?? { from: 0, to: 40 };
  if (!(room.from >= -40 && room.from <= room.to && room.to <= 120)) {
    const accepted = `expected temperatures from ${celsius.format(-40)} to ${celsius.format(120)}, the lower first`;
    throw new PartsRequestError("room", `found a room of ${room.from} to ${room.to} °C; ${accepted}`);
  }
  return { range, wanted, supply, chip, series, stock: request.stock ?? null, divider: request.divider ?? true, room };
}

function checkedTimes(range: Range, about: "range" | "wanted"): Range {
  const { from, to } = range;
  const fail = (message: string): never => {
    throw new PartsRequestError(about, `the ${about} ${message}`);
  };
  if (!Number.isFinite(from) || !Number.isFinite(to)) fail(`is not two times; ${rangeAccepted}`);
  if (from > to) fail(`runs backwards, from ${duration.format(from)} to ${duration.format(to)}; put the shorter time first`);
  if (from < SHORTEST) fail(`begins at ${from > 0 ? duration.format(from) : from}; expected at least ${duration.format(SHORTEST)}`);
  if (to > LONGEST) fail(`ends at ${duration.format(to)}; expected at most ${duration.format(LONGEST)}`);
  if (from === to) fail(`is the single time ${duration.format(from)}; expected two different times`);
  return range;
}

function checkedSupply(supply: number, chip: ChipName): number {
  const { least, most, source } = chip === "ideal" ? { least: 1, most: 60, source: "" } : TIMER_CHIPS[chip].supply;
  if (supply >= least && supply <= most) return supply;
  const why = source === "" ? "" : ` (${source})`;
  const found = Number.isFinite(supply) ? volts.format(supply) : "no voltage";
  throw new PartsRequestError("supply", `found a supply of ${found}; expected ${volts.format(least)} to ${volts.format(most)}${why}`);
}

function oneOf<Words extends readonly string[]>(known: Words, found: string, about: "chip" | "series", plural: string): Words[number] {
  const word = known.find((one) => one === found);
  if (word !== undefined) return word;
  throw new PartsRequestError(about, `unknown ${about} ${quoted(found)}; ${knownWords(found, known, plural)}`);
}

/** "30 s to 6 min". */
export function spokenRange({ from, to }: Range): string {
  return `${duration.format(from)} to ${duration.format(to)}`;
}

function quoted(text: string): string {
  return JSON.stringify(text.length <= 60 ? text : `${text.slice(0, 57)}…`);
}
