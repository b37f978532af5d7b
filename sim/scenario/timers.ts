import type * as z from "zod/mini";
import { TIMER_CHIPS } from "../parts/chips.js";
import { spokenTolerance } from "../units/tolerance.js";
import { amps, duration, tempco } from "../units/quantities.js";
import type { AstableTimer, Timer, Trimmer } from "../model/timer.js";
import { resolveLeakage, resolvePart, type Assume } from "./parts.js";
import { knownWords } from "./problems.js";
import type { timerSchema } from "./timerschema.js";

export type TimerFile = z.output<typeof timerSchema>;
type AstableFile = Extract<TimerFile, { kind: "astable" }>;
/** Reports a problem with the timer at keys below it. */
export type Report = (keys: readonly (string | number)[], message: string) => void;

/** The timer of a board; undefined when something about it was reported. */
export function resolveTimer(
  file: TimerFile,
  path: string,
  boardIds: readonly string[],
  report: Report,
  assume: Assume,
): Timer | undefined {
  switch (file.kind) {
    case "astable":
      return resolveAstable(file, path, report, assume);
    case "carry": {
      const from = boardIds.indexOf(file.from);
      if (from >= 0) return { kind: "carry", from };
      report(["from"], `no board is called "${file.from}"; ${knownWords(file.from, boardIds, "boards")}`);
      return undefined;
    }
    default:
      return file;
  }
}

function resolveAstable(file: AstableFile, path: string, report: Report, assume: Assume): AstableTimer | undefined {
  const trimmer = resolveTrimmer(file, path, report, assume);
  if (trimmer === undefined) return undefined;
  const { kind, divide, discharge, jitter, drift, chip = null } = file;
  if (chip !== null) {
    const { threshold, error, tempco: chipTempco, sources } = TIMER_CHIPS[chip];
    assume(`${path}.chip threshold current`, amps.format(threshold), sources.threshold);
    assume(`${path}.chip error`, `${spokenTolerance(error.minus, error.plus)} (limit, in builds)`, sources.error);
    assume(`${path}.chip tempco`, tempco.format(chipTempco), sources.tempco);
  }
  const leakage = resolveLeakage(file.c);
  if (!leakage.given) assume(`${path}.c.leakage`, amps.format(0), "no leakage given: taken as none");
  return {
    kind,
    ra: resolvePart(file.ra, `${path}.ra`, assume),
    rb: resolvePart(file.rb, `${path}.rb`, assume),
    c: { ...resolvePart(file.c, `${path}.c`, assume), volts: ("volts" in file.c ? file.c.volts : undefined) ?? null },
    leakage,
    trimmer,
    chip,
    divide,
    discharge,
    jitter,
    drift,
  };
}

/** The trimmer with its knob, which may be written in it or beside it; undefined when it was reported. */
function resolveTrimmer(file: AstableFile, path: string, report: Report, assume: Assume): Trimmer | null | undefined {
  const inside = file.trimmer;
  const knobs = ["dial", "setTo", "reading"] as const;
  if (inside === undefined) {
    const stray = knobs.find((key) => file[key] !== undefined);
    if (stray === undefined) return null;
    report([stray], `there is no trimmer to set; add trimmer: { value, in }, or take ${stray} out`);
    return undefined;
  }
  const twice = knobs.find((key) => file[key] !== undefined && inside[key] !== undefined);
  if (twice !== undefined) {
    report([twice], `${twice} is given in the trimmer and beside it; keep one`);
    return undefined;
  }
  const dial = file.dial ?? inside.dial;
  const setTo = file.setTo ?? inside.setTo;
  const reading = file.reading ?? inside.reading;
  if ((dial === undefined) === (setTo === undefined)) {
    const found = dial === undefined ? "neither is given" : "both are given (in a variant, dial: null or setTo: null takes out what " +
      "the base has)";
    report(["trimmer"], `${found}; a trimmer needs either dial (such as 35 %) or setTo (such as 2 min 50 s)`);
    return undefined;
  }
  if (dial !== undefined && reading !== undefined) {
    report(["reading"], "reading is the error of the stopwatch, and goes with setTo, not with dial");
    return undefined;
  }
  if (setTo !== undefined && reading === undefined) {
    assume(`${path}.reading`, duration.format(0), "no reading error given: the stopwatch is taken as exact");
  }
  return {
    part: resolvePart(inside.value, `${path}.trimmer.value`, assume),
    in: inside.in,
    taper: inside.taper,
    setting: dial !== undefined ? { kind: "dial", dial } : { kind: "step", step: setTo!, reading: reading ?? 0 },
  };
}
