import { parseDocument } from "yaml";
import { applied, scalarAt, spanOf } from "./edits.js";

/** The text of a scenario file with another name for its base, byte for byte the same elsewhere; without a base as it is. */
export function withBaseNamed(text: string, file: string, name: (base: string) => string): string {
  const base = scalarAt(parseDocument(text), ["base"], file, "it can be named by itself");
  if (base === null) return text;
  const before = String(base.value!.value);
  const after = name(before);
  return after === before ? text : applied(text, [{ ...spanOf(base.value!), text: JSON.stringify(after) }]);
}
