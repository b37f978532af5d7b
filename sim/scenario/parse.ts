import { schemaProblems } from "./issues.js";
import { readAsMeant } from "./misspelt.js";
import { ScenarioError, type Problem } from "./problems.js";
import { mendedLayout, mendedMeaning, type Slip } from "./slips.js";
import { Source } from "./source.js";

/** Lines with problems about which a line in the wrong column is looked for. */
const LINES_LIMIT = 3;

/**
 * The text of a scenario file as a source. Where a line begins in the wrong column, or lacks a colon or a bracket, it is
 * read as it was meant, so that the consequences of the slip are not told; the slip is among what is wrong with the source.
 * Throws {@link ScenarioError} where that leaves no YAML.
 */
export function parseSource(text: string, file: string): Source {
  const plain = attempt(text, file);
  if (plain instanceof Source) return meant(text, plain, []);
  if (plain.problems.some(({ line }) => line === 0)) throw plain;
  const mended = mendedLayout(text, wrongs);
  const source = mended.slips.length === 0 ? plain : attempt(mended.text, file);
  if (source instanceof Source) return meant(mended.text, source, mended.slips);
  const moved = mendedMeaning(mended.text, oddLines(source.problems), wrongs);
  if (moved === null) throw new ScenarioError(file, [...mended.slips.map(inFile(file)), ...source.problems]);
  return Source.parse(moved.text, file).withSlips([...mended.slips, ...moved.slips].map(inFile(file)));
}

/** A source as it was meant, where a line of it is in the wrong column without being unreadable; `slips`: what was put right before. */
function meant(text: string, source: Source, slips: readonly Slip[]): Source {
  // of a variant most is missing anyway
  const problems = [...source.mended, ...(source.base !== undefined ? [] : readAsMeant(source).problems)];
  const moved = mendedMeaning(text, oddLines(problems), wrongs);
  if (moved === null) return source.withSlips(slips.map(inFile(source.file)));
  const known = new Set(slips.map(({ line }) => line));
  return Source.parse(moved.text, source.file).withSlips([...slips, ...moved.slips.filter(({ line }) => !known.has(line))].map(inFile(source.file)));
}

/** Lines with problems that come from where they stand, more likely than not: a key that is only misspelt is in its place. */
function oddLines(problems: readonly Problem[]): number[] {
  const odd = problems.filter(({ meant: key }) => key === undefined);
  return [...new Set([...odd.filter(({ at }) => at === "key"), ...odd].map(({ line }) => line))].slice(0, LINES_LIMIT);
}

function attempt(text: string, file: string): Source | ScenarioError {
  try {
    return Source.parse(text, file);
  } catch (error) {
    if (error instanceof ScenarioError) return error;
    throw error;
  }
}

/** What the schema finds wrong with a text, wherever it stands; null where it is no YAML. */
function wrongs(text: string): string[] | null {
  const source = attempt(text, "");
  if (!(source instanceof Source)) return null;
  const problems = [...source.mended, ...schemaProblems(source)];
  return problems.map(({ path, message }) => `${path.join(".")}: ${message}`);
}

function inFile(file: string): (slip: Slip) => Problem {
  return ({ line, column, message }) => ({ path: [], at: "value", message, line, column, file });
}
