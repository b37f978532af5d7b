/** A scenario file by its name, without the directory it lies in. */
export interface FileText {
  readonly file: string;
  readonly text: string;
}

/** What a page carries for its script, as JSON in a data block. */
export interface Embedded {
  readonly version: string;
  /** The scenario file, and those it is based on, the next one below it first. */
  readonly files: readonly FileText[];
  /** The opening that the report's pictures show, from 1. */
  readonly day: number;
  /** Name of the picture under the houses, which stands in the page itself; null where the scenario names none. */
  readonly picture: string | null;
}

/** Id of the data block. */
export const EMBEDDED_ID = "lampdrift-embedded";
