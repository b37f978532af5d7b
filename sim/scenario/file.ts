import { readFile, realpath, stat } from "node:fs/promises";
import { basename, dirname, join, isAbsolute } from "node:path";
import type { Scenario } from "../model/scenario.js";
import { ScenarioError } from "./problems.js";
import { scenarioOf } from "./read.js";
import { isOutside } from "./outside.js";
import { parseSource } from "./parse.js";
import { readPicture } from "./picturefile.js";
import { baseSchema, pictureSchema } from "./schema.js";
import { SIZE_LIMIT, type Source } from "./source.js";
import { whyUnreadable } from "./unreadable.js";

/** Files that may stand on one another. */
const DEPTH_LIMIT = 10;

/** Told of each file just before it is read, whether or not it can be. */
export type Reading = (path: string) => void;

/** How a scenario file is read. */
export interface ReadOptions {
  /**
   * Where the files may lie on which it is based: `below` (the default): in its own folder or a folder therein, since what is
   * wrong with a file is told with words of that file; or `anywhere`.
   */
  readonly bases?: "below" | "anywhere" | undefined;
  readonly reading?: Reading | undefined;
}

/**
 * Reads a scenario file from disk, and the files that it is based on. Throws {@link ScenarioError} when one of them
 * cannot be read as text or has problems; each problem names the file that it stands in.
 *
 * @example
 * ```ts
 * import { readScenario, ScenarioError } from "lampdrift";
 *
 * const scenario = await readScenario("scenarios/twin-boards.yaml");
 * console.log(scenario.title); // Twin Boards
 *
 * const problems = await readScenario("missing.yaml").catch((error) => (error as ScenarioError).message);
 * console.log(problems); // missing.yaml: there is no such file
 * ```
 */
export async function readScenario(path: string, options: ReadOptions = {}): Promise<Scenario> {
  return scenarioOf(await readSource(path, options));
}

/** A scenario file as a source, laid over those that it is based on. */
export async function readSource(path: string, { bases = "below", reading = () => undefined }: ReadOptions = {}): Promise<Source> {
  reading(path);
  return withPicture(await withBase(parseSource(await readText(path), path), [path], { bases, reading }), reading);
}

/** A source with the picture that it names, if any, or with what is wrong with that. */
async function withPicture(source: Source, reading: Reading): Promise<Source> {
  const named = pictureSchema.safeParse(source.pictureName);
  if (!named.success) return source;
  const { file = source.file } = source.problem(["picture"], "value", "");
  reading(join(dirname(file), named.data));
  const picture = await readPicture(dirname(file), named.data);
  return source.withPicture(typeof picture === "string" ? `found ${source.found(["picture"])}; ${picture}` : picture);
}

/** A source laid over the file that its `base` names, if any; `chain`: the files that led here. */
async function withBase(source: Source, chain: readonly string[], options: ReadOptions): Promise<Source> {
  if (source.base === undefined) return source;
  const fail = (message: string): never => {
    throw new ScenarioError(chain[0]!, [{ ...source.problem(["base"], "value", message), file: source.file }]);
  };
  const named = baseSchema.safeParse(source.base);
  if (!named.success) return fail(`found ${source.found(["base"])}; expected ${named.error.issues[0]!.message}`);
  const path = isAbsolute(named.data) ? named.data : join(dirname(source.file), named.data);
  if (await isAmong(chain, path)) {
    return fail(`the bases go round in a circle: ${[...chain, path].join(", based on ")}; one of them must stand by itself`);
  }
  if (chain.length > DEPTH_LIMIT) return fail(`more than ${DEPTH_LIMIT} files stand on one another here; expected a base nearer to ` +
    "the ground");
  if (options.bases === "below" && !(await isBelow(dirname(chain[0]!), path))) {
    return fail(`found ${source.found(["base"])}, which lies outside the folder of ${chain[0]}; expected a file in that folder or below ` +
      "it (--base-anywhere reads any)");
  }
  options.reading?.(path);
  const text = await readText(path).catch((error: unknown) => {
    if (!(error instanceof ScenarioError)) throw error;
    return fail(`found ${source.found(["base"])}; expected a scenario file; ${path}: ${error.problems[0]!.message}`);
  });
  const base = await withBase(parseSource(text, path), [...chain, path], options);
  return source.over(base);
}

async function isAmong(chain: readonly string[], path: string): Promise<boolean> {
  const real = (file: string): Promise<string> => realpath(file).catch(() => file);
  const target = await real(path);
  return (await Promise.all(chain.map(real))).includes(target);
}

/** Whether a file lies in a folder or below it, wherever links lead; of one that is not there its name decides. */
async function isBelow(folder: string, file: string): Promise<boolean> {
  const there = await realpath(file).catch(async () => join(await realpath(dirname(file)).catch(() => dirname(file)), basename(file)));
  return !isOutside(await realpath(folder).catch(() => folder), there);
}

/** The text of a file that should be a page or two of UTF-8, `what` it is in words; anything else is refused before it is read whole. */
export async function readText(path: string, what = "a scenario file"): Promise<string> {
  const fail = (message: string): never => {
    throw new ScenarioError(path, [{ path: [], at: "value", message, line: 0, column: 0 }]);
  };
  const facts = await stat(path).catch((error: unknown) => fail(whyUnreadable(error)));
  if (facts.isDirectory()) fail(`this is a directory; expected ${what}`);
  if (!facts.isFile()) fail(`this is not a regular file; expected ${what}`);
  if (facts.size > SIZE_LIMIT) {
    const bytes = (size: number): string => size.toLocaleString("en-GB");
    fail(`the file has ${bytes(facts.size)} bytes; at most ${bytes(SIZE_LIMIT)} are read: ${what} is a few pages of text`);
  }
  const bytes = await readFile(path).catch((error: unknown) => fail(whyUnreadable(error)));
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return fail("the file is not UTF-8 text; save it as UTF-8");
  }
}
