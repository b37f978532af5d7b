import { schemaProblems } from "./issues.js";
import { pathText, type Problem } from "./problems.js";
import type { Source } from "./source.js";

/** Keys that are read as others at most; whoever misspells more begins anew. */
const KEYS_LIMIT = 20;

/** A source as its schema sees it. */
interface Judged {
  readonly source: Source;
  readonly problems: readonly Problem[];
}

/**
 * What the schema finds wrong with a source, where a key that is only misspelt is read as the one that is meant: it is a
 * problem, and that the key which is meant is missing is none beside it. `source` is the one so read.
 */
export function readAsMeant(source: Source): Judged {
  const misspelt: Problem[] = [];
  const tried = new Set<string>();
  let now = judged(source);
  while (tried.size < KEYS_LIMIT) {
    const problem = now.problems.find(({ path, meant }) => meant !== undefined && !tried.has(pathText(path)));
    if (problem === undefined) break;
    tried.add(pathText(problem.path));
    const renamed = now.source.renamed(problem.path, problem.meant!);
    if (renamed === null) continue;
    const then = judged(renamed);
    const place = [...problem.path.slice(0, -1), problem.meant!];
    // a key that only looks like another may hold something else
    if (now.problems.some(under(place)) || !then.problems.some(under(place))) {
      misspelt.push(problem);
      now = then;
    }
  }
  return { source: now.source, problems: [...misspelt, ...now.problems] };
}

function under(place: Problem["path"]): (problem: Problem) => boolean {
  return ({ path }) => place.every((key, i) => path[i] === key);
}

function judged(source: Source): Judged {
  return { source, problems: schemaProblems(source) };
}
