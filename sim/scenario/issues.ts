import type * as z from "zod/mini";
import { ID, idAccepted } from "./fields.js";
import { housesHint } from "./named.js";
import { isMapping } from "./overlay.js";
import { knownWords, nearest, type Problem } from "./problems.js";
import { scenarioSchema } from "./schema.js";
import type { Source } from "./source.js";

type Path = (string | number)[];

/** What the schema of a scenario finds wrong with a source, as problems at their places in the file. */
export function schemaProblems(source: Source): Problem[] {
  const shape = scenarioSchema.safeParse(source.data);
  return shape.success ? [] : toProblems(source, shape.error.issues);
}

function toProblems(source: Source, issues: readonly z.core.$ZodIssue[], base: Path = []): Problem[] {
  return issues.flatMap((issue) => translate(source, issue, base));
}

function translate(source: Source, issue: z.core.$ZodIssue, base: Path): Problem[] {
  const path = [...base, ...(issue.path as Path)];
  switch (issue.code) {
    case "unrecognized_keys": {
      const known = issue.message.split(" ");
      return issue.keys.map((key) => ({
        ...source.problem([...path, key], "key", `unknown key; ${knownWords(key, known, "known keys here")}`),
        meant: nearest(key, known),
      }));
    }
    case "invalid_key": {
      const found = String(path.at(-1));
      const accepted = issue.issues[0]?.message ?? "another key";
      return [source.problem(path, "key", `found ${JSON.stringify(found)}; expected ${accepted}${accepted === idAccepted ? idHint(found) : ""}`)];
    }
    case "invalid_union": {
      if (issue.errors.length === 0) return [misspeltKind(source, path) ?? wrongKind(source, path, issue)];
      const branch = meantBranch(issue.errors);
      if (branch !== undefined) return toProblems(source, branch, path);
    }
  }
  const hint = issue.message === idAccepted ? housesHint(source.data, source.valueAt(path)) : "";
  return [expected(source, path, `${issue.message}${hint}${percentHint(issue.message, source.valueAt(path))}`)];
}

/** Of a name with spaces in it the id that it could have. */
function idHint(found: string): string {
  const joined = found.trim().toLowerCase().replace(/\s+/g, "-");
  const fits = joined !== found && ID.test(joined);
  return fits ? `; such as ${joined}, with what people call it as its name` : "";
}

/** Whoever writes 20 for a share means a fifth. */
function percentHint(accepted: string, found: unknown): string {
  return accepted.startsWith("a share") && typeof found === "number" && found > 1 && found <= 100 ? `; did you mean "${found} %"?` : "";
}

/** Where a mapping has no kind, the key that was to be it. */
function misspeltKind(source: Source, path: Path): Problem | undefined {
  const beside = source.valueAt(path.slice(0, -1));
  const key = !isMapping(beside) || Object.hasOwn(beside, "kind") ? undefined : Object.keys(beside).find((one) => nearest(one, ["kind"]) !== undefined);
  if (key === undefined) return undefined;
  return { ...source.problem([...path.slice(0, -1), key], "key", 'unknown key; did you mean "kind"?'), meant: "kind" };
}

function wrongKind(source: Source, path: Path, issue: z.core.$ZodIssueInvalidUnion): Problem {
  const options = ("options" in issue && Array.isArray(issue.options) ? issue.options : []).map(String);
  const found = source.found(path);
  const hint = found === "nothing" ? `kinds: ${options.join(", ")}` : knownWords(unquoted(found), options, "kinds");
  return source.problem(path, "value", `found ${found}; expected a known kind; ${hint}`);
}

function unquoted(found: string): string {
  return found.replace(/^"(.*)"$/, "$1");
}

/** Of the ways in which a value may be written, the one whose shape it has. */
function meantBranch(branches: readonly z.core.$ZodIssue[][]): z.core.$ZodIssue[] | undefined {
  return branches.find((issues) => !issues.some(wrongShape));
}

function wrongShape(issue: z.core.$ZodIssue): boolean {
  if (issue.path.length > 0) return false;
  return issue.code === "invalid_type" || (issue.code === "invalid_union" && issue.errors.every((e) => e.some(wrongShape)));
}

function expected(source: Source, path: Path, accepted: string): Problem {
  const found = source.found(path);
  const gone = source.takesNothingAway(path);
  if (gone !== null) {
    const message = `found nothing, which takes a key of the base away, but the base has no "${String(path.at(-1))}"`;
    return source.problem(path, "value", `${message}; ${knownWords(String(path.at(-1)), gone, "keys of the base here")}`);
  }
  return source.problem(path, "value", found === "nothing" ? `missing; expected ${accepted}` : `found ${found}; expected ${accepted}`);
}
