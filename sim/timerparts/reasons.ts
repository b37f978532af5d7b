import { dividerFor } from "../parts/logic.js";
import { spoken } from "../parts/prose.js";
import { warmLeakageFactor } from "../parts/leakage.js";
import { amps, celsius, duration, farads, ohms } from "../units/quantities.js";
import { listed, percent, plain, spokenDuration } from "../units/text.js";
import type { Choice } from "./choice.js";
import { spokenRange, type FullRequest } from "./request.js";
import { largestResistance, type Miss } from "./search.js";

/** Why a choice does, and what to mind with it: a sentence each. */
export function reasonsFor(choice: Choice, { wanted, room, chip }: FullRequest): string[] {
  const { corners, capacitor, leakageBudget, knob, divide } = choice;
  const published = `${spoken(amps, capacitor.publishedLeakage)} (rated ${capacitor.ratedVolts} V, 20 °C)`;
  const budget = spoken(amps, leakageBudget);
  const warmest = celsius.format(room.to);
  const cool = spoken(amps, leakageBudget / warmLeakageFactor(room.to));
  return [
    `From ${spokenDuration(corners.from)} to ${spokenDuration(corners.to)}, ${percent(choice.spare)} to spare: allowed for are the ` +
      "tolerance of every part, " +
      `the room from ${celsius.format(room.from)} to ${warmest}, ${chip === "ideal" ? "an ideal chip" : "the chip's limits"}, and ` +
        `${spoken(ohms, choice.trackEnd)} that the end of the track leaves.`,
    leakageBudget >= capacitor.warmLeakage
      ? `Even a capacitor at its published leakage limit of ${published} will do, warm as well: the most it may leak is ${budget}.`
      : `The capacitor may leak ${budget} at most at ${warmest}, that is ${cool} at 20 °C, ` +
        (leakageBudget >= capacitor.publishedLeakage ? "and its published limit is too much when warm" : "less than its published limit") +
        `, ${published}: measure it when it has settled.`,
    ...(capacitor.type === "film"
      ? []
      : ["Time it once at one mark of the knob: at DC the capacitor may be larger than marked. If the knob then ends too early, change " +
        "rb, the pad resistor, and leave it."]),
    `${spokenRange(wanted)} takes ${percent(knob.travel)} of the knob's travel; a degree of turning is ` +
      `${spokenDuration(knob.secondsPerDegree)}.`,
    ...(divide === 1 ? [] : [`Needs a divider by ${divide}, one output of a ${dividerTypes(divide)} type.`]),
  ];
}

/** The chips that divide by a power of two: "4020 or 4060". */
function dividerTypes(divide: number): string {
  const { chip, others } = dividerFor(divide)!;
  return listed([chip, ...others].sort(), "or");
}

/** Why a set of parts does not do. */
export function whyNot({ fails }: Miss, choice: Choice, request: FullRequest): string {
  const { corners, ra, rb, trimmer } = choice;
  const { range } = request;
  if (fails === "resistance") {
    const most = spoken(ohms, largestResistance(request).value);
    return `RA + RB with the trimmer are ${spoken(ohms, ra + rb + trimmer.value)}, and the most for this chip and supply is ${most}.`;
  }
  const reaches = `at the worst the knob reaches ${spokenDuration(corners.from)} to ${spokenDuration(corners.to)}`;
  const slow = corners.from > range.from ? `its fast end may be slower than ${duration.format(range.from)}` : "";
  const fast = corners.to < range.to ? `its slow end may be faster than ${duration.format(range.to)}` : "";
  const both = [slow, fast].filter((text) => text !== "").join(", and ");
  return `With ${spoken(farads, choice.c)} ${choice.capacitor.type} ${reaches}: ${both}.`;
}

/** Why there is no choice at all, and what would help. */
export function whyNone({ range, stock }: FullRequest, widest: number): string {
  const parts = stock === null ? "usual parts" : "the parts in stock";
  return (
    `No set of ${parts} reaches ${spokenRange(range)} (1 : ${plain(range.to / range.from, 3)}) at every corner of tolerance and ` +
      "temperature; " +
    `the widest knob of these parts reaches 1 : ${plain(widest, 3)} at the worst. A narrower range would do, ` +
    `${stock === null ? "or capacitors of closer tolerance" : "or more capacitors and trimmers"}; the near misses say what fails.`
  );
}
