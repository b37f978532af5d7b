import { posix, relative, dirname, join, isAbsolute, sep } from "node:path";
import { isAlias, isMap, isScalar, parseDocument, type Document, type Pair, type Scalar, type YAMLMap } from "yaml";
import { InputError } from "../errors.js";
import { duration } from "../units/quantities.js";
import { USUAL_READING } from "./knobs.js";

/** A knob to be written down. */
export interface WrittenSetting {
  readonly id: string;
  readonly stepSeconds: number;
}

type Path = readonly string[];
type ScalarPair = Pair<Scalar, Scalar>;

/**
 * The text of a scenario file with other knob settings, byte for byte the same elsewhere. A `setTo` gets the new step
 * time; a `dial` becomes a `setTo` with a usual reading error, since a step time cannot be set by the mark on a knob.
 * `place` tells the keys that lead to the mapping in which a board's setting stands, and which of the two it is: in a
 * variant, whose own text may not have it, it is written there over what the base says. `from` and `to` are the names of
 * the file and of the one that is written, for the name of a base. Throws {@link InputError} where a setting stands
 * behind an alias, since it would change another board too.
 */
export function writtenWith(text: string, settings: readonly WrittenSetting[], place: (id: string) => SettingPlace, from: string, to: string): string {
  const document = parseDocument(text);
  const edits: Edit[] = [];
  const missing: WrittenSetting[] = [];
  for (const setting of settings) {
    const { path, key } = place(setting.id);
    const pair = pairAt(document, [...path, key], from);
    if (pair === null) missing.push(setting);
    else edits.push(editOf(pair, key, setting.stepSeconds, text, isInFlow(document, path)));
  }
  const base = pairAt(document, ["base"], from);
  if (base !== null) edits.push({ ...spanOf(base.value!), text: JSON.stringify(rebased(String(base.value!.value), from, to)) });
  const edited = applied(text, edits);
  return missing.length === 0 ? edited : withMissing(edited, missing, place);
}

/** Where the setting of a board stands: the keys that lead to its mapping, and its own key. */
export interface SettingPlace {
  readonly path: Path;
  readonly key: "setTo" | "dial";
}

interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

function editOf({ key, value }: ScalarPair, name: SettingPlace["key"], step: number, text: string, flow: boolean): Edit {
  if (name === "setTo") return { ...spanOf(value!), text: duration.format(step) };
  const { start } = spanOf(key);
  const column = start - (text.lastIndexOf("\n", start - 1) + 1);
  const next = flow ? ", " : `\n${" ".repeat(column)}`;
  return { start, end: spanOf(value!).end, text: `setTo: ${duration.format(step)}${next}reading: ${duration.format(USUAL_READING)}` };
}

function spanOf({ range }: Scalar): { start: number; end: number } {
  return { start: range![0], end: range![1] };
}

function applied(text: string, edits: readonly Edit[]): string {
  return [...edits].sort((a, b) => b.start - a.start).reduce((all, edit) => all.slice(0, edit.start) + edit.text + all.slice(edit.end), text);
}

/** The key and single value at a path; null where there is none. */
function pairAt(document: Document, path: Path, file: string): ScalarPair | null {
  let node: unknown = document.contents;
  for (const [depth, key] of path.entries()) {
    if (isAlias(node)) {
      throw new InputError(`${file}: ${path.slice(0, depth).join(".")} stands behind an alias (*${node.source}); write it out, so that its knob can be set by itself`);
    }
    if (!isMap(node)) return null;
    const pair = node.items.find((item) => isScalar(item.key) && String(item.key.value) === key);
    if (pair === undefined) return null;
    if (depth === path.length - 1) return isScalar(pair.value) ? (pair as ScalarPair) : null;
    node = pair.value;
  }
  return null;
}

function isInFlow(document: Document, path: Path): boolean {
  return (document.getIn(path, true) as YAMLMap | undefined)?.flow === true;
}

/** Settings that only the base of a variant has, written into the variant. */
function withMissing(text: string, settings: readonly WrittenSetting[], place: (id: string) => SettingPlace): string {
  const document = parseDocument(text);
  for (const { id, stepSeconds } of settings) {
    const { path, key } = place(id);
    document.setIn([...path, "setTo"], duration.format(stepSeconds));
    if (key === "setTo") continue;
    document.setIn([...path, "dial"], null);
    document.setIn([...path, "reading"], duration.format(USUAL_READING));
  }
  return document.toString({ lineWidth: 0 });
}

/** The name of a base as it is reached from another directory. */
function rebased(base: string, from: string, to: string): string {
  if (isAbsolute(base)) return base;
  return relative(dirname(to), join(dirname(from), base)).split(sep).join(posix.sep);
}
