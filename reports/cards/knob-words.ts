import { DRAWN, HAND, type KnobFigures } from "../../sim/knob/index.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { formatClock } from "../../sim/units/clock.js";
import { celsius, duration } from "../../sim/units/quantities.js";
import { percent, plain, spokenDuration } from "../../sim/units/text.js";
import { poweredHours } from "../../sim/engine/calendar.js";
import { counted } from "../words.js";
import { KNOB_MM, SCALE_MM } from "./knob-dial.js";
import type { Paragraph } from "./knob-flow.js";
import { errorText, spanText, STOP_TO_STOP, travelText, TURN, turnText } from "./knob-times.js";
import { DAY, MINUTE } from "../../sim/units/time.js";

/** Minutes for which a board runs before it is timed (common practice, no source). */
const WARM_UP = 10;

/** Millimetres along the scale below which nobody turns a knob on purpose (common practice, no source). */
const FINEST_MM = 0.3;

/** Changes beyond which nobody counts. */
const MOST_COUNTED = 500;

/** To be filled in by hand. */
const BLANKS = "Set on ______________ by ______________ step ______________ knob at ________ %";

/** How to set the knob, step by step. */
export function instructions(scenario: Scenario, b: number, figures: KnobFigures): Paragraph[] {
  const { set, trimmer, timing } = figures;
  const { setting } = trimmer;
  const fixed = setting.kind === "dial";
  const same = figures.stayBand !== null && figures.stayBand.all.from === figures.stayBand.all.to;
  const ratio = set.firstSeconds / set.seconds;
  const first = ratio < 1.005 ? "is a little longer" : `lasts ${spokenDuration(set.firstSeconds)} (${plain(ratio, 3)} times a step)`;
  const steps = [
    `Switch on ${WARM_UP} minutes before: parts warm up, and leakage settles (common practice, no source). ${roomWords(scenario)}`,
    fixed
      ? "Put the knob's pointer on the set mark and leave it there. What a step then lasts depends on your parts" +
        (same ? ", of which the scenario gives no tolerances." : ": the bands, read on this scale.")
      : "Put the knob's pointer on the set mark. Your board will end up elsewhere, most likely in the dark band.",
    `The first step after switch-on ${first}, and a step during which the knob was turned is of no use either: start the stopwatch at ` +
      `the next change.`,
    ...countWords(scenario, b, figures),
    ...(fixed ? (same ? [] : [checkWords(figures)]) : [turnWords(figures)]),
  ];
  return [
    { text: fixed ? "How to set it, and check it" : "How to set it", bold: true, above: 8 },
    ...steps.map((text, i) => ({ text, lead: `${i + 1}` })),
    { text: BLANKS, above: 8 },
    ...(timing.watch === "nothing" ? [] : [{ text: accuracyWords(figures), small: true, above: 6 }]),
  ];
}

function roomWords({ room }: Scenario): string {
  if (room.swing === 0) return `The room is taken to be at ${celsius.format(room.mean)}.`;
  const quarter = DAY / 4;
  const times = [room.warmest + quarter, room.warmest + 3 * quarter].map((t) => Math.round((t % DAY) / MINUTE) * MINUTE).sort((one, other) => one - other);
  return `The room should be at its mean, ${celsius.format(room.mean)}: about ${times.map(formatClock).join(" or ")}.`;
}

/** What to count, and what the stopwatch should show. */
function countWords({ houses, boards }: Scenario, b: number, { timing, set, trimmer }: KnobFigures): string[] {
  const { watch, count, units } = timing;
  const { setting } = trimmer;
  const reading = setting.kind === "step" ? setting.reading : 0;
  const exact = setting.kind === "step" ? setting.step : set.seconds;
  const total = setting.kind === "step" ? duration.format(Number((units * exact).toPrecision(12))) : spokenDuration(units * exact);
  const give = reading === 0 ? "" : `, give or take ${shortText(Number((units * reading).toPrecision(12)))}`;
  const shows = `${setting.kind === "step" ? "It should show" : "With nominal parts it shows"} ${total}${give}.`;
  const own = new Set(boards[b]!.outputs.flatMap((loads) => loads.map(({ house }) => house)));
  const shared = houses.some((_, h) => own.has(h) && boards.some(({ outputs }, other) => other !== b && outputs.some((loads) => loads.some(({ house }) => house === h))));
  const others = shared ? " Houses that another board lights as well may hide a change: switch that board off meanwhile." : "";
  switch (watch) {
    case "changes":
      if (count > MOST_COUNTED) return [`Steps so short, or known so well, are beyond a hand on a stopwatch: ` +
        `${counted(count, "change")} would have to be counted, ${spokenDuration(units * exact)}.`];
      return [`Stop it ${count === 1 ? "at the next change" : `${counted(count, "change")} later`}. ${shows}${others}`];
    case "rounds": {
      const rounds = count === 1 ? "when it comes round again" : `when it has come round ${count} times`;
      const why = timing.even ? "Not every step shows" : "Steps of this board are not equally long";
      return [`${why}, so time whole rounds: start at a change that you will know again, and stop ${rounds}. ${shows}${others}`];
    }
    case "shortest":
      return [`Not every step shows: note the times of many changes. The shortest from one to the next is one step. ${shows}${others}`];
    case "nothing":
      return [`No lamp shows the steps of this board: while you set it, connect one to a counter output that changes. One step: ` +
        `${total}${give}.`];
  }
}

function slopeWords({ scale, set }: KnobFigures): string {
  const [low, high] = [Math.max(0, set.dial - 1 / TURN), Math.min(scale.stallsFrom ?? 1, set.dial + 1 / TURN)];
  const change = (scale.stepAt(high) - scale.stepAt(low)) / ((high - low) * TURN);
  return Number.isFinite(change) && change > 0 ? `One degree is about ${errorText(change)}.` : "";
}

/** Which way to turn, and how far. */
function turnWords(figures: KnobFigures): string {
  return `Step too long: turn back (anticlockwise). Too short: turn on (clockwise). ${slopeWords(figures)} Then as from 3 again.`;
}

/** What a stopwatch may show where the knob stays, and what it means if it does not. */
function checkWords({ stayBand }: KnobFigures): string {
  const { from, to } = stayBand!.all;
  const where = "means that a part is not what it should be: look at the capacitor first.";
  if (Number.isFinite(to)) return `A step outside ${spanText({ from, to })} ${where}`;
  return `A step below ${spanText({ from, to: from })} ${where} A board that stands still leaks too much.`;
}

/** What the reading costs, and what the hand does. */
function accuracyWords({ trimmer, timing, set, scale }: KnobFigures): string {
  const { setting } = trimmer;
  const hand = `A hand on the stopwatch is taken to be off by ${HAND} s at most at either end (common practice, no source)`;
  const finds = `${hand}, so that this finds the step to ± ${errorText(timing.within)}`;
  if (setting.kind === "dial") return `${finds}.`;
  const { reading, step } = setting;
  if (reading === 0) return `The scenario gives no reading error and so takes the stopwatch as exact. ${finds}.`;
  const [low, high] = [step - reading, step + reading].map((seconds) => (seconds <= scale.least ? 0 : seconds >= scale.most ? (scale.stallsFrom ?? 1) : scale.dialAt(seconds)));
  const turn = ((high! - low!) / 2) * TURN;
  const long = timing.units * set.seconds > 3600 ? ` It takes ${spokenDuration(timing.units * set.seconds)}.` : "";
  const along = (turn / 180) * Math.PI * SCALE_MM;
  const fine = along < FINEST_MM ? ", finer than a hand turns a knob, so come as near as you can" : "";
  const missed = timing.within > reading ? `, not to the ± ${shortText(reading)} that were planned` : "";
  return (
    `What ± ${shortText(reading)} costs: ${percent(reading / step)} of a step, about ${plain(turn, 2)}° of turn or ` +
    `${plain(along, 2)} mm along this scale${fine}; in an hour the board may come to stand ${errorText((3600 * reading) / step)} ` +
    `ahead of the plan or behind it. ${finds}${missed}.${long}`
  );
}

/** A reading error as it is written, in seconds where it is below one. */
function shortText(seconds: number): string {
  return seconds < 1 ? `${plain(seconds, 6)} s` : duration.format(seconds);
}

/** What a builder must know before trusting the knob; nothing where all goes well. */
export function warnings({ setBand, stayBand, scale, slowStallsFrom, trimmer, rows }: KnobFigures): Paragraph[] {
  const texts: string[] = [];
  if (rows.every(({ kind }) => kind !== "round")) {
    texts.push(`This knob does next to nothing: its whole travel changes a step by ${percent(scale.most / scale.least - 1)}.`);
  }
  if (setBand !== null && trimmer.setting.kind === "step") {
    const wanted = duration.format(trimmer.setting.step);
    const { tooLong, tooShort, outOfReach } = setBand;
    const far = (seconds: number): string =>
      Number.isFinite(seconds) ? `a step of ${spokenDuration(seconds)}` : "a timer that never clocks";
    const ends = [
      ...(tooLong === null ? [] : [`the slowest parts give ${far(tooLong)} even at the left stop`]),
      ...(tooShort === null ? [] : [`the quickest parts give ${far(tooShort)} even at the right stop`]),
    ];
    if (ends.length > 0) {
      texts.push(
        `Not every board reaches ${wanted}: ${ends.join(", and ")} (${outOfReach === 0 ? "none" : outOfReach} of ${DRAWN} builds drawn). ` +
          "If the knob is at its stop and steps are still wrong, change the capacitor.",
      );
    }
  }
  if (stayBand !== null && stayBand.stalled > 0) {
    texts.push(`With the knob there, ${stayBand.stalled} of ${DRAWN} builds drawn never clock: their capacitors leak too much.`);
  }
  if (scale.stallsFrom !== null) {
    texts.push(
      `From ${travelText(scale.stallsFrom)} of the travel on (${turnText(scale.stallsFrom)}, crossed hatching) the timer never clocks: ` +
        "the leakage takes what so large a resistance lets through. Just before, steps grow very long.",
    );
  }
  if (slowStallsFrom !== null && slowStallsFrom < (scale.stallsFrom ?? 1)) {
    texts.push(
      `A board whose parts are all at their slow limits, the leakage too, never clocks from ${travelText(slowStallsFrom)} of the ` +
        `travel on (${turnText(slowStallsFrom)}, hatched outside the bands). If yours stands still there, turn back or ` +
        "change the capacitor.",
    );
  }
  return texts.map((text) => ({ text, lead: "!" }));
}

/** What the dial and the table are based on. */
export function assumptions({ room, opening }: Scenario, { trimmer, rows, room: roomSpan, drifted }: KnobFigures): Paragraph[] {
  const bounds = `${celsius.format(Number((room.mean - room.swing).toPrecision(4)))} to ${celsius.format(Number((room.mean + room.swing).toPrecision(4)))}`;
  const warm =
    room.swing === 0
      ? `Warmth: the room stays at ${celsius.format(room.mean)}.`
      : roomSpan.from === roomSpan.to
        ? `Warmth: from ${bounds} a step stays the same, as far as temperature coefficients are given.`
        : `Warmth: over a day in this room, ${bounds}, a step lasts ${spanText(roomSpan)} with nominal parts, as far as temperature ` +
          `coefficients are given.`;
  const hours = counted(Math.round(poweredHours(opening)), "powered hour");
  const age =
    drifted === null
      ? ""
      : ` Age: after the ${hours} of the planned run it lasts ${spanText(drifted)}; set it anew when that is too far off.`;
  const log = "logarithmic track with 10 % of its resistance at half travel (common practice, no source)";
  const taper = trimmer.taper === "linear" ? "linear track" : log;
  const exact = rows.every(({ steps }) => steps.from === steps.to);
  const bands = exact
    ? "Bands: no part that matters has a tolerance in the scenario, so that there is one value for everything."
    : "Bands: the pale one and the last column are exact: a step gets longer with every part, so that the extremes are where all parts " +
      `are at their limits at once. The dark one holds nine of ten of ${DRAWN} builds drawn at random. All else is for nominal parts.`;
  const dial =
    `Dial: ${STOP_TO_STOP}° from stop to stop, of which the track changes over ${TURN}° (Omeg P20, Bourns 3386P sheets); least ` +
    `resistance at the left, ${taper}. If yours turns otherwise go by the percentages, which are of the ${TURN}°; if clockwise makes ` +
    `steps shorter, swap the outer ends of the track. Cut along the broken line; shaft hole 7 mm, knob up to ${KNOB_MM} mm across.`;
  return [{ text: "What was assumed", bold: true, above: 8 }, ...[dial, bands, warm + age].map((text) => ({ text, small: true, above: 2 }))];
}
