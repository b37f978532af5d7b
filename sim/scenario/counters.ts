import type * as z from "zod/mini";
import { lfsrLength, MAXIMAL_TAPS } from "../counters/lfsr.js";
import type { Counter } from "../model/scenario.js";
import type { counterSchema } from "./boardschema.js";
import type { Report } from "./timers.js";

/** The counter of a board; undefined when something about it was reported. */
export function resolveCounter(file: z.output<typeof counterSchema>, report: Report): Counter | undefined {
  switch (file.kind) {
    case "lfsr":
      return resolveShiftRegister(file, report);
    case "table": {
      const hold = file.hold ?? file.steps.map(() => 1);
      if (hold.length === file.steps.length) return { ...file, hold };
      report(["hold"], `found ${hold.length} factors; expected one for each of the ${file.steps.length} steps`);
      return undefined;
    }
    default:
      return file;
  }
}

function resolveShiftRegister(
  file: Extract<z.output<typeof counterSchema>, { kind: "lfsr" }>,
  report: Report,
): Counter | undefined {
  const { bits } = file;
  const taps = file.taps ?? MAXIMAL_TAPS[bits];
  if (taps === undefined) {
    report(["taps"], `missing; no published taps are known here for ${bits} bits, so give them, such as [2, 1]`);
    return undefined;
  }
  const beyond = taps.find((tap) => tap > bits);
  if (beyond !== undefined) {
    report(["taps"], `found tap ${beyond}, but the register has ${bits} stages; expected stages 1 to ${bits}`);
    return undefined;
  }
  if (new Set(taps).size < taps.length) {
    report(["taps"], "a stage stands twice; name each tap once");
    return undefined;
  }
  const full = 2 ** bits - 1;
  const length = lfsrLength(bits, taps);
  if (length !== full) {
    const known = MAXIMAL_TAPS[bits];
    const advice = known === undefined ? "" : `; [${known.join(", ")}] would do`;
    report(["taps"], `these taps give ${length} steps, not the full ${full}${advice}`);
    return undefined;
  }
  return { ...file, taps };
}
