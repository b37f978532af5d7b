import { dialFor } from "../parts/taper.js";
import type { Scenario } from "../model/scenario.js";
import { builds } from "../builds/draw.js";
import { looseParts, type LoosePart } from "../builds/parts.js";
import { quantiles } from "../statistics/quantiles.js";
import { actualValue, type Build } from "../timers/build.js";
import { clockwork } from "../timers/clockwork.js";
import type { Reach } from "../timers/trim.js";
import { knobOf, stepAtDial } from "./settings.js";

/** Builds drawn to tell what is usual. */
export const DRAWN = 400;

/** From the least to the most; step times in seconds, places of the knob as shares of its travel. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/**
 * The builds in which the step time at any one place of the knob is shortest and longest. At given resistors the step
 * time rises with every resistor, with the capacitor, with its leakage (which prolongs charging by more than it shortens
 * discharging, since RA + RB is not below RB) and with the chip's error: so the extremes over all builds are where
 * every part is at the same limit, and they are exact.
 */
export function extremeBuilds(scenario: Scenario, b: number): { readonly quick: Build; readonly slow: Build } {
  const loose = looseParts(alone(scenario, b)).filter(({ name }) => name !== "reading");
  return { quick: atLimits(loose, -1), slow: atLimits(loose, 1) };
}

/** Step times that parts inside their tolerances give with the knob at `dial`; `to` is infinite where some stall. */
export function stepsAt(scenario: Scenario, b: number, dial: number): Span {
  const { quick, slow } = extremeBuilds(scenario, b);
  return { from: stepAtDial(scenario, b, dial, quick), to: stepAtDial(scenario, b, dial, slow) };
}

/** Where a stopwatch puts the knob, whatever the parts. */
export interface SetBand {
  /** Places in which the knob ends for parts anywhere inside their tolerances, the reading too. */
  readonly all: Span;
  /** Places in which it ends in nine of ten drawn builds. */
  readonly usual: Span;
  /** Step with the slowest parts at the low end of the travel, where that is longer than wanted; seconds, else null. */
  readonly tooLong: number | null;
  /** Step with the quickest parts at the high end, where that is shorter than wanted; seconds, else null. */
  readonly tooShort: number | null;
  /** Drawn builds, of {@link DRAWN}, in which the track ends before the wanted step time is reached. */
  readonly outOfReach: number;
}

/** The band of a knob with `setTo`; null for one that is set to a place. */
export function setBand(scenario: Scenario, b: number): SetBand | null {
  const { setting } = knobOf(scenario, b)!.trimmer;
  if (setting.kind !== "step") return null;
  const loose = looseParts(alone(scenario, b));
  // a long reading turns the knob up, every other part that is large turns it down
  const lowest = atLimits(loose, 1, -1);
  const highest = atLimits(loose, -1, 1);
  const draw = builds(alone(scenario, b));
  const places = Array.from({ length: DRAWN }, (_, i) => knobPlace(scenario, b, draw(i + 1)));
  const usual = quantiles(Float64Array.from(places, ({ dial }) => dial))!;
  const { quick, slow } = extremeBuilds(scenario, b);
  const longest = stepAtDial(scenario, b, 0, slow);
  const shortest = stepAtDial(scenario, b, 1, quick);
  return {
    all: { from: knobPlace(scenario, b, lowest).dial, to: knobPlace(scenario, b, highest).dial },
    usual: { from: usual.p05, to: usual.p95 },
    tooLong: longest > setting.step ? longest : null,
    tooShort: shortest < setting.step ? shortest : null,
    outOfReach: places.filter(({ reach }) => reach !== "set").length,
  };
}

/** Step times of a knob that stays where it was put. */
export interface StayBand {
  /** For parts anywhere inside their tolerances; `to` is infinite where some stall. */
  readonly all: Span;
  /** In nine of ten drawn builds that clock; null where none does. */
  readonly usual: Span | null;
  /** Drawn builds, of {@link DRAWN}, whose timer stalls. */
  readonly stalled: number;
}

/** The step times of a knob that is set to a place; null for one with `setTo`. */
export function stayBand(scenario: Scenario, b: number): StayBand | null {
  const { setting } = knobOf(scenario, b)!.trimmer;
  if (setting.kind !== "dial") return null;
  const draw = builds(alone(scenario, b));
  const steps = Float64Array.from({ length: DRAWN }, (_, i) => stepAtDial(scenario, b, setting.dial, draw(i + 1)));
  const usual = quantiles(steps);
  return {
    all: stepsAt(scenario, b, setting.dial),
    usual: usual && { from: usual.p05, to: usual.p95 },
    stalled: steps.filter((step) => !Number.isFinite(step)).length,
  };
}

/** Where the knob of board b, set as the scenario says, stands in a build: share of its travel. */
export function knobPlace(scenario: Scenario, b: number, build: Build): { readonly dial: number; readonly reach: Reach } {
  const timer = knobOf(scenario, b)!;
  const { taper, part, setting } = timer.trimmer;
  const { id } = scenario.boards[b]!;
  const { trimmerOhms, reach } = clockwork(id, timer, scenario.supply.volts, scenario.room, build);
  // as it is written: resistance and track would give it back with a rounding
  if (setting.kind === "dial") return { dial: setting.dial, reach };
  const track = actualValue(part, build.deviations.get(`${id}.trimmer`) ?? 0);
  return { dial: dialFor(taper, trimmerOhms! / track), reach };
}

/** The scenario with board b and no other, whose parts are drawn the same without the others. */
function alone(scenario: Scenario, b: number): Scenario {
  return { ...scenario, boards: [scenario.boards[b]!] };
}

/** Every part at one limit, the reading at its own. */
function atLimits(loose: readonly LoosePart[], side: 1 | -1, reading: 1 | -1 = side): Build {
  return { number: 0, deviations: new Map(loose.map(({ key, name }) => [key, name === "reading" ? reading : side])) };
}
