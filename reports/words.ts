import type { Rating } from "../sim/ratings/rating.js";
import type { FigureUnit } from "../sim/figures/headlines.js";
import { formatClock, WEEKDAYS } from "../sim/units/clock.js";
import { spoken } from "../sim/parts/prose.js";
import { amps, duration, ohms, volts, watts } from "../sim/units/quantities.js";
import { percent, plain, spokenDuration } from "../sim/units/text.js";
import { sequence } from "../sim/counters/sequence.js";
import type { Board, Counter, Opening, Scenario } from "../sim/model/scenario.js";
import type { ChipKind, Timer } from "../sim/model/timer.js";

/** Plain words for what a scenario describes, the same on a terminal and on paper. */

/** "24 houses in 3 zones, 3 boards". */
export function sizeInWords({ houses, boards }: Scenario): string {
  const zones = new Set(houses.flatMap(({ zone }) => zone ?? [])).size;
  return `${counted(houses.length, "house")}${zones === 0 ? "" : ` in ${counted(zones, "zone")}`}, ${counted(boards.length, "board")}`;
}

/** "30 openings, Tue Wed Thu Fri Sat Sun 10:00 to 17:00, switched off overnight". */
export function openingInWords({ days, from, until, overnight, run }: Opening): string {
  const which = days.length === 7 ? "every day" : days.map((day) => WEEKDAYS[day]).join(" ");
  const night = overnight ? "on overnight" : "switched off overnight";
  return `${counted(run, "opening")}, ${which} ${formatClock(from)} to ${formatClock(until)}, ${night}`;
}

function chipInWords(chip: ChipKind | null): string {
  switch (chip) {
    case null:
      return "ideal 555 type";
    case "bipolar":
      return "bipolar 555 type";
    case "cmos":
      return "CMOS 555 type";
    case "LMC555":
    case "TLC555":
    case "ICM7555":
      return `${chip} timer`;
  }
}

/** "CMOS 555 type, knob set to 2 min 50 s". */
export function timerInWords(timer: Timer, boards: readonly Board[]): string {
  switch (timer.kind) {
    case "astable": {
      const chip = chipInWords(timer.chip);
      const divider = timer.divide === 1 ? "" : `, divided by ${timer.divide}`;
      if (timer.trimmer === null) return chip + divider;
      const { setting } = timer.trimmer;
      const knob = setting.kind === "dial" ? `knob at ${percent(setting.dial)}` : `knob set to ${duration.format(setting.step)}`;
      return `${chip}${divider}, ${knob}`;
    }
    case "measured":
      return "as measured";
    case "quartz":
      return "quartz";
    case "carry":
      return `carry of ${boards[timer.from]!.id}`;
  }
}

/** "ring of 10 steps". */
export function counterInWords(counter: Counter): string {
  const { steps } = sequence(counter);
  const start = counter.powerUp === "anywhere" ? ", starts anywhere" : "";
  switch (counter.kind) {
    case "ring":
      return `ring of ${steps} steps${start}`;
    case "johnson":
      return `Johnson, ${counter.stages} stages, ${steps} steps${start}`;
    case "binary":
      return `binary, ${counter.bits} bits, ${steps} steps${start}`;
    case "lfsr":
      return `shift register, ${counter.bits} bits, ${steps} steps${start}`;
    case "table":
      return `table of ${steps} steps${start}`;
    case "shuffle":
      return `shuffle of ${steps} rows${start}`;
  }
}

/** "1 house", "3 houses". */
export function counted(n: number, noun: string, nouns = `${noun}s`): string {
  return `${plain(n, 6)} ${n === 1 ? noun : nouns}`;
}

/** With a capital letter at its beginning. */
export function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}



const UNITS = new Map([amps, ohms, volts, watts].map((quantity, i) => [["A", "Ω", "V", "W"][i]!, quantity]));

/** A value of a rating with its unit: "400 nA", "12 V". */
export function withUnit(value: number, unit: string): string {
  const quantity = UNITS.get(unit);
  return quantity === undefined ? `${plain(value, 3)} ${unit}` : spoken(quantity, value);
}

/** The limit of a rating: "2 A", or "at least 1 kΩ" where the value must not fall below it. */
export function limitInWords({ value, limit, unit, share }: Pick<Rating, "value" | "limit" | "unit" | "share">): string {
  // a share says how near the limit is from the side that is allowed
  const least = value !== limit && value > limit === share < 1;
  return `${least ? "at least " : ""}${withUnit(limit, unit)}`;
}

/** What is shorter than this nobody sees, seconds. Judgement, no source. */
const SEEN = 0.1;

/** Value of a headline figure in words; whole numbers in full. */
export function figureValue(value: number, unit: FigureUnit): string {
  switch (unit) {
    case "s":
      return value > 0 && value < SEEN ? `< ${SEEN} s` : spokenDuration(value);
    case "share":
      return percent(value);
    case "per hour":
      return plain(value, 3);
    case "":
      return plain(value, Number.isInteger(value) ? 9 : 4);
  }
}
