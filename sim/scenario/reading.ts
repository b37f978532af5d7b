import type * as z from "zod/mini";
import type { Assumption, Warning } from "../model/scenario.js";
import type { Assume } from "./parts.js";
import { pathText, ScenarioError, type Problem } from "./problems.js";
import type { Source } from "./source.js";

export type Path = readonly (string | number)[];
export type Mapping = Readonly<Record<string, unknown>>;

const PROBLEMS_LIMIT = 1000;

/** One reading of a scenario file: its data, and what was found wrong and assumed so far. */
export class Reading {
  readonly data: Mapping;
  readonly assume: Assume;
  readonly warnings: Warning[] = [];

  constructor(
    readonly source: Source,
    readonly problems: Problem[],
    readonly assumptions: Assumption[],
  ) {
    this.data = mapping(source.data);
    this.assume = (path, value, from) => assumptions.push({ path, value, source: from });
  }

  /** A part of the file by its schema; undefined where the schema refuses it, which is reported elsewhere. */
  piece<Schema extends z.ZodMiniType>(schema: Schema, data: unknown): z.output<Schema> | undefined {
    const parsed = schema.safeParse(data);
    return parsed.success ? parsed.data : undefined;
  }

  /** Notes a problem. Throws {@link ScenarioError} when there are so many that looking for more helps nobody. */
  report(path: Path, at: Problem["at"], message: string): void {
    this.problems.push(this.source.problem(path, at, message));
    if (this.problems.length >= PROBLEMS_LIMIT) throw new ScenarioError(this.source.file, this.problems);
  }

  /** Notes a value that is allowed but hardly meant. */
  warn(path: Path, message: string): void {
    const { file = this.source.file, line, column } = this.source.problem(path, "value", message);
    this.warnings.push({ path: pathText(path), place: `${file}:${line}:${column}`, message });
  }

  /** What stands in the file at a path. */
  at(path: Path): unknown {
    return path.reduce<unknown>((value, key) => (value as Record<string | number, unknown> | undefined)?.[key], this.data);
  }
}

/** The value as a mapping; an empty one where it is something else. */
export function mapping(value: unknown): Mapping {
  return typeof value === "object" && value !== null && !Array.isArray(value) ? (value as Mapping) : {};
}
