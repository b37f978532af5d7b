import { parseDocument, type Pair, type Scalar } from "yaml";
import { applied, columnOf, isInFlow, scalarAt, spanOf, type Edit, type Path } from "../scenario/edits.js";
import { duration } from "../units/quantities.js";
import { USUAL_READING } from "../knob/settings.js";
import type { Seconds } from "../units/time.js";

/** A step time to be written down. */
export interface WrittenSetting {
  readonly id: string;
  readonly stepSeconds: Seconds;
}

/** Completes "write it out, so that …". */
const WHY = "its knob can be set by itself";

/**
 * The text of a scenario file with other step times, byte for byte the same elsewhere. A `setTo`, or the `step` of a timer
 * without a knob, gets the new time; a `dial` becomes a `setTo` with a usual reading error, since a step time cannot be set
 * by the mark on a knob. `place` tells where a board's setting stands: in a variant, whose own text may not have it, it is
 * written there over what the base says. `file` is the name of the file. Throws InputError where a setting stands behind an alias, since it would change another board too.
 */
export function writtenWith(
  text: string,
  settings: readonly WrittenSetting[],
  place: (id: string) => SettingPlace,
  file: string,
): string {
  const document = parseDocument(text);
  const edits: Edit[] = [];
  const missing: WrittenSetting[] = [];
  for (const setting of settings) {
    const { path, key } = place(setting.id);
    const pair = scalarAt(document, [...path, key], file, WHY);
    if (pair === null) missing.push(setting);
    else edits.push(editOf(pair, key, setting.stepSeconds, text, isInFlow(document, path)));
  }
  const edited = applied(text, edits);
  return missing.length === 0 ? edited : withMissing(edited, missing, place);
}

/** Where the setting of a board stands: the keys that lead to its mapping, and its own key. */
export interface SettingPlace {
  readonly path: Path;
  readonly key: "setTo" | "dial" | "step";
}

/** Where it stands in the data of a scenario file, bases included. Throws where a board has none. */
export function settingPlace(data: unknown, id: string): SettingPlace {
  const timer = ["boards", id, "timer"];
  const at = (path: Path): unknown => path.reduce<unknown>((value, key) => (value as Record<string, unknown> | undefined)?.[key], data);
  for (const path of [timer, [...timer, "trimmer"]]) {
    for (const key of ["setTo", "dial", "step"] as const) {
      if (Object.hasOwn((at(path) ?? {}), key)) return { path, key };
    }
  }
  throw new Error(`board ${id} has no setting`);
}

function editOf({ key, value }: Pair<Scalar, Scalar>, name: SettingPlace["key"], step: number, text: string, flow: boolean): Edit {
  if (name !== "dial") return { ...spanOf(value!), text: duration.format(step) };
  const { start } = spanOf(key);
  const next = flow ? ", " : `\n${" ".repeat(columnOf(text, start))}`;
  return { start, end: spanOf(value!).end, text: `setTo: ${duration.format(step)}${next}reading: ${duration.format(USUAL_READING)}` };
}

/** Settings that only the base of a variant has, written into the variant. */
function withMissing(text: string, settings: readonly WrittenSetting[], place: (id: string) => SettingPlace): string {
  const document = parseDocument(text);
  for (const { id, stepSeconds } of settings) {
    const { path, key } = place(id);
    document.setIn([...path, key === "dial" ? "setTo" : key], duration.format(stepSeconds));
    if (key !== "dial") continue;
    document.setIn([...path, "dial"], null);
    document.setIn([...path, "reading"], duration.format(USUAL_READING));
  }
  return document.toString({ lineWidth: 0 });
}
