/** What is wished of the arrangement of houses on outputs, besides what is promised; houses and boards by index. */
export interface Wishes {
  /** Houses that hang on the same outputs. */
  readonly together: readonly (readonly number[])[];
  /** Houses of which no two hang on one output. */
  readonly apart: readonly (readonly number[])[];
  /** Houses that stay on the outputs they are on. */
  readonly keep: readonly number[];
  /** Most houses on one output; null: any number. */
  readonly perOutput: number | null;
  /** The only board that may light a house. */
  readonly board: ReadonlyMap<number, number>;
}

export const NO_WISHES: Wishes = { together: [], apart: [], keep: [], perOutput: null, board: new Map() };
