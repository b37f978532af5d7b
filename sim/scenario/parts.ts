import { PART_TYPES } from "../parts/types.js";
import { formatTolerance, type PartMarking } from "../units/part.js";
import { tempco as tempcoUnit } from "../units/quantities.js";
import type { Leakage, Part, PartType } from "../model/timer.js";

/** A part as the schema hands it over, however it was written. */
interface PartFile {
  readonly value: PartMarking;
  readonly tolerance?: { readonly minus: number; readonly plus: number } | undefined;
  readonly tempco?: number | undefined;
  readonly type?: PartType | undefined;
  readonly leakage?: number | { readonly typical: number; readonly limit: number } | undefined;
}

/** Notes a value that the file does not give. */
export type Assume = (path: string, value: string, source: string) => void;

/** A part with what its type supplies; what nobody gives is taken as exact, and noted. */
export function resolvePart(file: PartFile, path: string, assume: Assume): Part {
  const type = file.type ?? null;
  const { value, minus, plus } = file.value;
  const marked = minus === null || plus === null ? undefined : { minus, plus };
  const tolerance = file.tolerance ?? marked ?? assumedTolerance(type, path, assume);
  return { value, ...tolerance, tempco: file.tempco ?? assumedTempco(type, path, assume), type };
}

function assumedTolerance(type: PartType | null, path: string, assume: Assume): { minus: number; plus: number } {
  const share = type === null ? 0 : (PART_TYPES[type].tolerance.value ?? 0);
  const source =
    type === null ? "neither tolerance nor type given: taken as exact in every build" : PART_TYPES[type].tolerance.source;
  assume(`${path}.tolerance`, formatTolerance(share, share), source);
  return { minus: share, plus: share };
}

function assumedTempco(type: PartType | null, path: string, assume: Assume): number {
  if (type === null) return 0;
  const { value, source } = PART_TYPES[type].tempco;
  assume(`${path}.tempco`, tempcoUnit.format(value ?? 0), source);
  return value ?? 0;
}

/** The capacitor's leakage as the file gives it. */
export function resolveLeakage({ leakage }: PartFile): Leakage {
  if (leakage === undefined) return { typical: 0, limit: null, given: false };
  if (typeof leakage === "number") return { typical: leakage, limit: null, given: true };
  return { ...leakage, given: true };
}
