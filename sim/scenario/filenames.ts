import { parseDocument } from "yaml";
import { applied, scalarAt, spanOf } from "./edits.js";

/**
 * The text of a scenario file with another name for the file that a key of it names, byte for byte the same elsewhere;
 * without that key as it is.
 */
export function withFileNamed(text: string, file: string, key: "base" | "picture", name: (named: string) => string): string {
  const named = scalarAt(parseDocument(text), [key], file, "it can be named by itself");
  if (named === null) return text;
  const before = String(named.value!.value);
  const after = name(before);
  return after === before ? text : applied(text, [{ ...spanOf(named.value!), text: JSON.stringify(after) }]);
}
