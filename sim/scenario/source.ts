import { type Document, isAlias, isMap, isScalar, isSeq, LineCounter, type Pair, parseDocument, visit } from "yaml";
import type { Picture } from "../model/picture.js";
import { ScenarioError, type Problem } from "./problems.js";
import { comesFromBelow, isMapping, overlaid, type Mapping } from "./overlay.js";
import { keyText, startOf, structureFaults, TOO_DEEP } from "./structure.js";
import { firstError } from "./syntax.js";

type Path = readonly (string | number)[];

/** Files larger than this are refused unread: a scenario is a page or two of text. */
export const SIZE_LIMIT = 500_000;
/** How often an alias may be expanded in one file. */
const ALIAS_LIMIT = 100;

/** The text of a scenario file with the place of everything in it. */
export class Source {
  private constructor(
    readonly file: string,
    private readonly text: string,
    private readonly document: Document.Parsed,
    private readonly lines: LineCounter,
    /** The file as plain data; without its `base`, and laid over it, once that is below. */
    readonly data: unknown,
    /** The source that this one is laid over, and what stands in this file alone. */
    private readonly below: { readonly source: Source; readonly own: unknown } | null = null,
    /** The picture that it names, or what is wrong with that one's file; null where it names none, or nobody looked. */
    readonly picture: Picture | string | null = null,
    /** Slips that were put right before this was read: problems of the file, however well the rest of it reads. */
    private readonly slips: readonly Problem[] = [],
  ) {}

  /** The value of the key `base`; undefined where there is none, or where it has been followed. */
  get base(): unknown {
    return isMapping(this.data) ? this.data["base"] : undefined;
  }

  /** The value of the key `picture`, here or in the base; undefined where there is none. */
  get pictureName(): unknown {
    return isMapping(this.data) ? this.data["picture"] : undefined;
  }

  /** The text of the file, and those of the files that it is laid over. */
  get texts(): string[] {
    return this.files.map(({ text }) => text);
  }

  /** As {@link texts}, each with the name of its file. */
  get files(): { readonly file: string; readonly text: string }[] {
    return [{ file: this.file, text: this.text }, ...(this.below?.source.files ?? [])];
  }

  /** This source as a variant of another: see {@link overlaid}. */
  over(source: Source): Source {
    const own = Object.fromEntries(Object.entries(this.data as Mapping).filter(([key]) => key !== "base"));
    return new Source(this.file, this.text, this.document, this.lines, overlaid(source.data, own), { source, own }, null, this.slips);
  }

  /** This source as one that was read after those slips in its text had been put right, too. */
  withSlips(slips: readonly Problem[]): Source {
    return new Source(this.file, this.text, this.document, this.lines, this.data, this.below, this.picture, [...this.slips, ...slips]);
  }

  /** The slips of this file and those below. */
  get mended(): readonly Problem[] {
    return [...this.slips, ...(this.below?.source.mended ?? [])];
  }

  /** This source with what was found in the file of its picture. */
  withPicture(picture: Picture | string | null): Source {
    return new Source(this.file, this.text, this.document, this.lines, this.data, this.below, picture, this.slips);
  }

  /**
   * Reads YAML 1.2 (and so JSON). Keys that stand twice are slips of what is read. Throws {@link ScenarioError} with the
   * first syntax error, of which others are mostly consequences, or with all that no scenario has.
   */
  static parse(text: string, file: string): Source {
    const lines = new LineCounter();
    const fail = (message: string, line = 0, column = 0): never => {
      throw new ScenarioError(file, [{ path: [], at: "value", message, line, column }]);
    };
    if (text.length > SIZE_LIMIT) fail(`the file has more than ${SIZE_LIMIT / 1e6} MB; a scenario is a page or two of text`);
    const nothing = text.indexOf("\0");
    if (nothing >= 0) {
      const before = text.slice(0, nothing).split(/\r\n|\r|\n/);
      fail("a character without meaning (NUL) stands here; save the file as plain text", before.length, before.at(-1)!.length + 1);
    }
    // some editors end lines by a carriage return alone, which YAML 1.2 does not take for an end
    if (!text.includes("\n") && text.includes("\r")) fail("the lines of this file end by a carriage return alone; save it with line feeds");
    if (text.trim() === "") fail('the file is empty; "lampdrift new" writes one to start from');
    let document: Document.Parsed;
    try {
      document = parseDocument(text, { lineCounter: lines, prettyErrors: false, uniqueKeys: false });
    } catch (error) {
      if (error instanceof RangeError) return fail(TOO_DEEP);
      throw error;
    }
    const problem = (path: Path, offset: number, message: string): Problem => {
      const { line, col } = lines.linePos(offset);
      return { path, at: "value", message, line, column: col };
    };
    const tooDeep = document.errors.find(({ message }) => message.includes("call stack"));
    if (tooDeep !== undefined) throw new ScenarioError(file, [problem([], tooDeep.pos[0], TOO_DEEP)]);
    const broken = firstError(document);
    if (broken !== null) throw new ScenarioError(file, [problem([], broken.offset, broken.message)]);
    const faults = structureFaults(document);
    const problems = faults.map(({ path, offset, message, first }) => {
      const twice = first === undefined ? "" : `, first in line ${lines.linePos(first).line}; keep one of them`;
      return problem(path, offset, message + twice);
    });
    if (faults.some(({ harmless }) => !harmless)) throw new ScenarioError(file, problems);
    try {
      const data = document.toJS({ maxAliasCount: ALIAS_LIMIT }) as unknown;
      return new Source(file, text, document, lines, data, null, null, problems.map((one) => ({ ...one, file })));
    } catch (error) {
      if (error instanceof ReferenceError) {
        const message = `more than ${ALIAS_LIMIT} values stand behind aliases (*), of which this is the first; write them out`;
        throw new ScenarioError(file, [problem([], firstAlias(document), message)]);
      }
      if (error instanceof RangeError) return fail(TOO_DEEP);
      throw error;
    }
  }

  /** A problem at the place of a path; where the path ends early in the file, at the deepest part that is there. */
  problem(path: Path, at: Problem["at"], message: string): Problem {
    if (this.below !== null && comesFromBelow(this.below.own, this.below.source.data, path)) {
      const { source } = this.below;
      return { file: source.file, ...source.problem(path, at, message) };
    }
    const place = this.locate(path, at);
    const { line, col } = place === null ? { line: 1, col: 1 } : this.lines.linePos(place);
    return { path, at, message, line, column: col };
  }

  private locate(path: Path, at: Problem["at"]): number | null {
    let node: unknown = this.document.contents;
    let place = startOf(node);
    for (const [depth, key] of path.entries()) {
      const { pair, value: next } = stepInto(this.document, node, key) ?? {};
      const last = depth === path.length - 1;
      place = (last && at === "key" ? startOf(pair?.key) : startOf(next)) ?? startOf(pair?.key) ?? place;
      if (next === undefined) break;
      node = next;
    }
    return place;
  }

  /** This source as if the last key of a path were another; null where no such key stands there, or the other stands beside it. */
  renamed(path: Path, key: string): Source | null {
    if (this.below !== null && comesFromBelow(this.below.own, this.below.source.data, path)) {
      const below = this.below.source.renamed(path, key);
      return below === null ? null : this.on(this.document, below);
    }
    const document = this.document.clone() as Document.Parsed;
    const holder = path.slice(0, -1).reduce<unknown>((node, step) => stepInto(document, node, step)?.value, document.contents);
    const pair = stepInto(document, holder, path.at(-1)!)?.pair;
    if (!isScalar(pair?.key) || stepInto(document, holder, key)?.pair !== undefined) return null;
    pair.key.value = key;
    return this.on(document, this.below?.source);
  }

  /** This source with another document, laid over a source unless there is none. */
  private on(document: Document.Parsed, below: Source | undefined): Source {
    const data = document.toJS({ maxAliasCount: ALIAS_LIMIT }) as unknown;
    const own = new Source(this.file, this.text, document, this.lines, data, null, this.picture, this.slips);
    return below === undefined ? own : own.over(below).withPicture(this.picture);
  }

  /** What stands at a path; undefined where nothing does. */
  valueAt(path: Path): unknown {
    return valueIn(this.data, path);
  }

  /** What stands at a path, for a message: the text of a single value, or what kind of thing it is. */
  found(path: Path): string {
    return foundText(this.valueAt(path) ?? null);
  }

  /** Where null in this file stands for a key that the base does not have, and so takes nothing away: the keys that it has. Else null. */
  takesNothingAway(path: Path): string[] | null {
    if (this.below === null || valueIn(this.below.own, path) !== null) return null;
    const beside = valueIn(this.below.source.data, path.slice(0, -1));
    return isMapping(beside) && !Object.hasOwn(beside, path.at(-1)!) ? Object.keys(beside) : null;
  }
}

/** What a key or a place in a list leads to in a document, and the pair that it stands in if it is a key. */
function stepInto(document: Document, node: unknown, key: string | number): { readonly pair?: Pair; readonly value: unknown } | undefined {
  const at = isAlias(node) ? node.resolve(document) : node;
  const pair = isMap(at) ? at.items.find((item) => keyText(item) === String(key)) : undefined;
  if (pair !== undefined) return { pair, value: pair.value };
  return isSeq(at) && typeof key === "number" ? { value: at.items[key] } : undefined;
}

function valueIn(data: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (value, key) =>
      typeof value === "object" && value !== null && Object.hasOwn(value, key) ? (value as Record<string | number, unknown>)[key] : undefined,
    data,
  );
}

function foundText(value: unknown): string {
  if (value === null) return "nothing";
  if (Array.isArray(value)) return value.length === 0 ? "an empty list" : "a list";
  if (typeof value === "object") return "a mapping";
  const text = typeof value === "string" ? JSON.stringify(value) : `${value as number | boolean}`;
  return text.length <= 60 ? text : `${text.slice(0, 57)}…`;
}

/** Offset of the first alias in a file that has one. */
function firstAlias(document: Document.Parsed): number {
  let offset = 0;
  visit(document, {
    Alias: (_key, { range }) => {
      offset = range![0];
      return visit.BREAK;
    },
  });
  return offset;
}
