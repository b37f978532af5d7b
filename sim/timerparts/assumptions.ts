import { SMALLEST_RA, TIMER_CHIPS } from "../parts/chips.js";
import { END_SOURCE, KNOB_TURN } from "../parts/preferred.js";
import { WARM_LEAKAGE_SOURCE } from "../parts/leakage.js";
import { PART_TYPES, TRIMMER } from "../parts/types.js";
import { formatTolerance } from "../units/part.js";
import { spokenTolerance } from "../units/tolerance.js";
import { celsius, tempco, volts } from "../units/quantities.js";
import type { FullRequest } from "./request.js";
import { largestResistance } from "./search.js";

/** What the corners of a plan rest on, with sources: a sentence each. */
export function assumptionsOf(request: FullRequest): string[] {
  const { supply, chip, series, stock, room } = request;
  const part = (share: number | null, warmth: number): string =>
    `${formatTolerance(share ?? 0, share ?? 0)} and ${tempco.format(warmth)} either way`;
  const { metal, electrolytic, film } = PART_TYPES;
  const chipText =
    chip === "ideal"
      ? "Chip: ideal, without error or threshold current."
      : `Chip: ${spokenTolerance(TIMER_CHIPS[chip].error.minus, TIMER_CHIPS[chip].error.plus)} (${TIMER_CHIPS[chip].sources.error}), ${tempco.format(TIMER_CHIPS[chip].tempco)} ` +
        `(${TIMER_CHIPS[chip].sources.tempco}), threshold current up to its limit (${TIMER_CHIPS[chip].thresholdLimit.source}).`;
  const parts =
    stock !== null
      ? [...stock.taken, "Tolerances as the stock file gives them, else as usual for the type."]
      : [
          `Resistors of ${series}, metal film: ${part(metal.tolerance.value, metal.warmth.value)} (${metal.tolerance.source}).`,
          `Trimmers, linear: ${part(TRIMMER.tolerance.value, TRIMMER.warmth.value)} (${TRIMMER.tolerance.source}).`,
          `Electrolytic and low-leakage capacitors: ${part(electrolytic.tolerance.value, electrolytic.warmth.value)} ` +
            `(${electrolytic.tolerance.source}; ${electrolytic.warmth.source}).`,
          `Film capacitors: ${part(film.tolerance.value, film.warmth.value)} (${film.tolerance.source}; ${film.warmth.source}).`,
        ];
  return [
    `Supply ${volts.format(supply)}, room ${celsius.format(room.from)} to ${celsius.format(room.to)}, values at 25 °C.`,
    chipText,
    ...parts,
    `${SMALLEST_RA.source}; RA + RB with the trimmer: ${largestResistance(request).source}.`,
    `Trimmers do not turn down to nothing: ${END_SOURCE}${stock === null ? "" : ", unless the stock file gives an end"}.`,
    `Leakage is judged at the room's warmest, ${celsius.format(room.to)}: ${WARM_LEAKAGE_SOURCE}.`,
    ...(chip === "ideal" ? [] : [`The discharge pin: ${TIMER_CHIPS[chip].discharge.source}; counted where it lengthens the low time by ` +
      "1 % or more."]),
    `The knob turns through ${KNOB_TURN.mechanical.value}° (${KNOB_TURN.mechanical.source}), and the track changes over ` +
      `${KNOB_TURN.electrical.value}° of them (${KNOB_TURN.electrical.source}).`,
    "The capacitance of an electrolytic is marked at 120 Hz; at DC it may be higher (common practice, no source).",
  ];
}
