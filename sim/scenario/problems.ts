import { InputError } from "../errors.js";
import { wordSlips } from "./wordslips.js";

/** One thing wrong in a scenario file. */
export interface Problem {
  /** Keys that lead there from the top of the file. */
  readonly path: readonly (string | number)[];
  /** `key`: the key itself is wrong; `value`: what stands behind it. */
  readonly at: "key" | "value";
  /** What is wrong, or what would be accepted. */
  readonly message: string;
  /** Of an unknown key the known one that is meant, where one is near enough. */
  readonly meant?: string | undefined;
  /** Line and column from 1, and the text found there; filled in from the file. */
  readonly line: number;
  readonly column: number;
  /** The file it stands in, where that is not the scenario's own but one that it is based on. */
  readonly file?: string;
}

/** Problems that a message spells out. */
const TOLD_LIMIT = 200;

/** All problems of a scenario, file by file in the order of their places; the message has one line for each, up to a limit. */
export class ScenarioError extends InputError {
  override readonly name = "ScenarioError";

  readonly problems: readonly Problem[];

  constructor(
    readonly file: string,
    problems: readonly Problem[],
  ) {
    const files = [...new Set([file, ...problems.map((problem) => problem.file ?? file)])];
    const place = (problem: Problem): number => files.indexOf(problem.file ?? file);
    const inOrder = [...problems].sort((a, b) => place(a) - place(b) || a.line - b.line || a.column - b.column);
    const told = inOrder.slice(0, TOLD_LIMIT).map((problem) => describe(problem.file ?? file, problem));
    super([...told, ...(told.length < inOrder.length ? [`${file}: … and more of them`] : [])].join("\n"));
    this.problems = inOrder;
  }
}

function describe(file: string, { path, line, column, message }: Problem): string {
  const where = line > 0 ? `${file}:${line}:${column}` : file;
  return path.length === 0 ? `${where}: ${message}` : `${where}: ${pathText(path)}: ${message}`;
}

/** The path as people write it: `boards.quay.outputs.1[0].house`. */
export function pathText(path: readonly (string | number)[]): string {
  return path.reduce<string>((text, key) => {
    if (typeof key === "number") return `${text}[${key}]`;
    const plain = /^[\p{L}\p{N}_-]+$/u.test(key) ? key : JSON.stringify(key);
    return text === "" ? plain : `${text}.${plain}`;
  }, "");
}

/** The known word nearest to the one found, if any is near enough to be meant. */
export function nearest(found: string, known: readonly string[]): string | undefined {
  // of a short word more than a third must be right
  let most = Math.min(Math.max(1, Math.ceil(found.length / 3)), Math.ceil((2 * found.length) / 3) - 1);
  let best: string | undefined;
  for (const word of known) {
    if (Math.abs(word.length - found.length) > most) continue;
    const far = wordSlips(found.toLowerCase(), word.toLowerCase());
    if (far <= most) [best, most] = [word, far - 1];
  }
  return best;
}

/** "did you mean …?" and the whole list, for a word that is not known. */
export function knownWords(found: string, known: readonly string[], what: string): string {
  const near = nearest(found, known);
  const list = known.length === 0 ? `there are no ${what}` : `${what}: ${abridge(known)}`;
  return near === undefined ? list : `did you mean "${near}"? ${list}`;
}

function abridge(words: readonly string[]): string {
  const most = 30;
  return words.length <= most ? words.join(", ") : `${words.slice(0, most).join(", ")}, … (${words.length} in all)`;
}
