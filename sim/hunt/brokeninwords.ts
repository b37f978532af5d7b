import type { Outcome } from "../promises/kinds/kind.js";
import { valueText } from "../promises/printing.js";
import { onlySide, promiseText, unitOf } from "../promises/text.js";
import type { Promised, Scenario } from "../model/scenario.js";
import { TIMER_CHIPS } from "../parts/chips.js";
import { spoken } from "../parts/prose.js";
import { looseParts, type LoosePart } from "../builds/parts.js";
import { actualLeakage, actualValue, errorAt, type Build } from "../timers/build.js";
import { oneIn } from "../statistics/unseen.js";
import { amps, duration, farads, ohms, ratio } from "../units/quantities.js";
import type { Seconds } from "../units/time.js";

/** What a hunt found for one promise, in a line. */
export function brokenInWords(scenario: Scenario, promised: Promised, build: Build, { value, limit }: Outcome): string {
  const parts = looseParts(scenario).filter(({ key }) => build.deviations.has(key));
  const enough =
    parts.length === 0
      ? "All parts nominal is enough."
      : `Enough: ${parts.map((part) => partInWords(scenario, part, build.deviations.get(part.key)!)).join(", ")}; all else nominal.`;
  const found = value === null ? "A timer stalls." : `Found: ${valueText(value, limit, unitOf(promised))}.`;
  return `Promise broken: ${promiseText(onlySide(promised, limit))}. ${enough} ${found}`;
}

/** What it means that no build of a search breaks a promise, of which so many were drawn at random; null where there is but one build. */
export function meaningOfNone(drawn: number | null): string {
  if (drawn === null) return "No part has a tolerance, so that one build is all there is.";
  const one = oneIn(drawn);
  return one === null || one < 2
    ? "So few tell little: give more --tries."
    : `With parts anywhere inside their tolerances, if one build in ${one} broke a promise, this search would have found it 95 times in ` +
      "100; a rarer one may be left.";
}

/** "quay.c at +6.1 % (505 µF)". */
function partInWords({ boards }: Scenario, { key, name, board }: LoosePart, deviation: number): string {
  const { timer } = boards[board]!;
  const off = (share: number): string => `${share < 0 ? "−" : "+"}${ratio.format(Number(Math.abs(share).toPrecision(3)))}`;
  switch (timer.kind) {
    case "quartz":
      return `${key} at ${off(deviation * timer.tolerance)}`;
    case "measured":
      return `${key} off by ${signedSeconds(deviation * timer.reading)}`;
    case "carry":
      return key;
    case "astable":
      break;
  }
  switch (name) {
    case "ra":
    case "rb":
    case "c": {
      const actual = actualValue(timer[name], deviation);
      return `${key} at ${off(actual / timer[name].value - 1)} (${spoken(name === "c" ? farads : ohms, actual)})`;
    }
    case "trimmer": {
      const { part } = timer.trimmer!;
      const actual = actualValue(part, deviation);
      return `${key} at ${off(actual / part.value - 1)} (${spoken(ohms, actual)})`;
    }
    case "leakage":
      return `${key} of ${spoken(amps, actualLeakage(timer.leakage, deviation))}`;
    case "chip":
      return `${key} at ${off(errorAt(TIMER_CHIPS[timer.chip!].error, deviation))}`;
    case "reading": {
      const setting = timer.trimmer!.setting;
      return `${key} off by ${signedSeconds(setting.kind === "step" ? deviation * setting.reading : 0)}`;
    }
    case "quartz":
      return key;
  }
}

function signedSeconds(seconds: Seconds): string {
  return `${seconds < 0 ? "−" : "+"}${duration.format(Number(Math.abs(seconds).toPrecision(3)))}`;
}
