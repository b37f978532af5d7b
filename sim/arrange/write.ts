import { isAlias, isMap, isScalar, parseDocument, type Document, type Pair, type YAMLMap } from "yaml";
import { InputError } from "../errors.js";
import type { Board, Load, Scenario } from "../model/scenario.js";

interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/**
 * The text of a scenario file with the houses of `to` on its outputs, byte for byte the same elsewhere; a comment inside a
 * list of houses that changes is kept behind it. A board that the file does not have, such as one that only stands in the
 * base of a variant, is written at the end. Throws {@link InputError} where outputs stand behind an alias, since another
 * board would change too.
 */
export function rewiredText(text: string, file: string, from: Scenario, to: Scenario): string {
  const document = parseDocument(text);
  const edits: Edit[] = [];
  const missing: { readonly id: string; readonly outputs: ReadonlyMap<number, string> | null; readonly board: Board }[] = [];
  to.boards.forEach((board, b) => {
    const before = from.boards[b];
    const changed = changedOutputs(before, board, to);
    if (changed.size === 0 && before !== undefined) return;
    const outputs = before === undefined ? null : outputsOf(document, board.id, file);
    if (outputs === null) missing.push({ id: board.id, outputs: before === undefined ? null : changed, board });
    else edits.push(...outputEdits(outputs, changed, text));
  });
  const edited = [...edits].sort((a, b) => b.start - a.start).reduce((all, edit) => all.slice(0, edit.start) + edit.text + all.slice(edit.end), text);
  if (missing.length === 0) return edited;
  const whole = parseDocument(edited);
  for (const { id, outputs, board } of missing) {
    if (outputs === null) whole.setIn(["boards", id], whole.createNode(boardAsData(board, to)));
    else for (const [output, loads] of outputs) whole.setIn(["boards", id, "outputs", output], parseDocument(loads).contents);
  }
  return whole.toString({ lineWidth: 0 });
}

/** The outputs whose houses are others than before, with what will stand there. */
function changedOutputs(before: Board | undefined, after: Board, scenario: Scenario): Map<number, string> {
  const houses = (loads: readonly Load[] | undefined): string => (loads ?? []).map(({ house }) => house).sort((a, b) => a - b).join();
  return new Map(
    after.outputs.flatMap((loads, output) =>
      houses(before?.outputs[output]) === houses(loads) ? [] : [[output, `[${loads.map((load) => loadText(load, scenario)).join(", ")}]`] as const],
    ),
  );
}

/** A house on an output as it is written down: its id alone where it has one lamp of the first kind. */
function loadText({ house, lamps, lamp }: Load, scenario: Scenario): string {
  const id = scenario.houses[house]!.id;
  if (lamps === 1 && lamp === 0) return id;
  const kind = lamp === 0 ? "" : `, lamp: ${scenario.lamps[lamp]!.id}`;
  return `{ house: ${id}${lamps === 1 ? "" : `, lamps: ${lamps}`}${kind} }`;
}

/** The mapping of a board's outputs in the file itself; null where it is not there. */
function outputsOf(document: Document, id: string, file: string): YAMLMap | null {
  let node: unknown = document.contents;
  for (const key of ["boards", id, "outputs"]) {
    if (isAlias(node)) throw behindAlias(file, id);
    if (!isMap(node)) return null;
    node = node.items.find((item) => isScalar(item.key) && String(item.key.value) === key)?.value;
  }
  if (isAlias(node)) throw behindAlias(file, id);
  return isMap(node) ? node : null;
}

function behindAlias(file: string, id: string): InputError {
  return new InputError(`${file}: the outputs of board ${id} stand behind an alias (*); write them out, so that they can change by ` +
    "themselves");
}

function outputEdits(outputs: YAMLMap, changed: ReadonlyMap<number, string>, text: string): Edit[] {
  const pairOf = (output: number): Pair | undefined => outputs.items.find((item) => isScalar(item.key) && String(item.key.value) === String(output));
  const added: string[] = [];
  const edits = [...changed].flatMap(([output, loads]): Edit[] => {
    const pair = pairOf(output);
    if (pair === undefined) {
      if (loads !== "[]") added.push(`${output}: ${loads}`);
      return [];
    }
    const key = pair.key as { range: [number, number, number] };
    const value = pair.value as { range?: [number, number, number] } | null;
    const start = key.range[1];
    const end = value?.range === undefined ? start : Math.max(start, lineEndOf(value.range[1], text));
    const kept = commentsIn(text.slice(start, end));
    const flow = outputs.flow === true;
    return [{ start, end, text: `: ${loads}${kept.length === 0 || flow ? "" : ` # ${kept.join("; ")}`}` }];
  });
  if (added.length > 0) edits.push(insertion(outputs, added, text));
  return edits;
}

/** The end of a value without the line break and blanks that a block takes with it. */
function lineEndOf(end: number, text: string): number {
  let at = end;
  while (at > 0 && /\s/.test(text[at - 1]!)) at--;
  return at;
}

function commentsIn(text: string): string[] {
  return [...text.matchAll(/(?:^|\s)#[ \t]*([^\n]*)/g)].map(([, words]) => words!.trim()).filter((words) => words !== "");
}

/** Outputs that nothing hung on, behind the last that is there. */
function insertion(outputs: YAMLMap, added: readonly string[], text: string): Edit {
  const last = outputs.items.at(-1);
  const [, end] = outputs.range!;
  if (last === undefined) return { start: outputs.range![0], end, text: `{ ${added.join(", ")} }` };
  const key = last.key as { range: [number, number, number] };
  const value = last.value as { range?: [number, number, number] } | null;
  const behind = lineEndOf(value?.range?.[1] ?? key.range[1], text);
  if (outputs.flow === true) return { start: behind, end: behind, text: `, ${added.join(", ")}` };
  const column = key.range[0] - (text.lastIndexOf("\n", key.range[0] - 1) + 1);
  const line = text.indexOf("\n", behind);
  const at = line < 0 ? text.length : line;
  return { start: at, end: at, text: added.map((entry) => `\n${" ".repeat(column)}${entry}`).join("") };
}

function boardAsData(board: Board, scenario: Scenario): Record<string, unknown> {
  const { timer, counter, at, outputs } = board;
  if (timer.kind !== "measured") throw new Error("only a measured board is added");
  const plain = Object.fromEntries(Object.entries(counter).filter(([key]) => key !== "powerUp"));
  return {
    timer: { kind: "measured", step: `${timer.step} s`, reading: `${timer.reading} s` },
    counter: plain,
    ...(at === null ? {} : { at: [...at] }),
    outputs: Object.fromEntries(
      outputs.flatMap((loads, output) =>
        loads.length === 0 ? [] : [[output, loads.map((load) => (load.lamps === 1 && load.lamp === 0 ? scenario.houses[load.house]!.id : loadData(load, scenario)))]],
      ),
    ),
  };
}

function loadData({ house, lamps, lamp }: Load, scenario: Scenario): Record<string, unknown> {
  return { house: scenario.houses[house]!.id, lamps, lamp: scenario.lamps[lamp]!.id };
}
