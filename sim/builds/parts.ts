import { TIMER_CHIPS } from "../parts/chips.js";
import type { Board, Scenario } from "../model/scenario.js";

/** The parts of a board that can deviate, in the order in which their deviations are drawn. */
export const PART_NAMES = ["ra", "rb", "c", "trimmer", "leakage", "chip", "reading", "quartz"] as const;
export type PartName = (typeof PART_NAMES)[number];

/** A part that differs from build to build. */
export interface LoosePart {
  /** As in a build: `board.part`. */
  readonly key: string;
  readonly name: PartName;
  /** Index into the scenario's boards. */
  readonly board: number;
  /** Reach below and above the nominal value; what counts is their ratio, where the draw is over actual values. */
  readonly minus: number;
  readonly plus: number;
  /**
   * The deviation that gives the nominal value: 0, but for a leakage, which runs over 0 … limit as its deviation runs
   * over −1 … +1, and is typical at nominal.
   */
  readonly nominal: number;
}

/** All parts that have a tolerance, board by board. A part without one is the same in every build. */
export function looseParts(scenario: Scenario): LoosePart[] {
  return scenario.boards.flatMap((board, b) =>
    PART_NAMES.flatMap((name): LoosePart[] => {
      const limits = limitsOf(board, name);
      if (limits === null || (limits.minus === 0 && limits.plus === 0)) return [];
      const { minus, plus, nominal = 0 } = limits;
      return [{ key: `${board.id}.${name}`, name, board: b, minus, plus, nominal }];
    }),
  );
}

type Limits = Pick<LoosePart, "minus" | "plus"> & { readonly nominal?: number };

function limitsOf({ timer }: Board, name: PartName): Limits | null {
  switch (timer.kind) {
    case "carry":
      return null;
    case "quartz":
      return name === "quartz" ? even(timer.tolerance) : null;
    case "measured":
      return name === "reading" ? even(timer.reading) : null;
    case "astable": {
      const { trimmer, leakage, chip } = timer;
      switch (name) {
        case "ra":
        case "rb":
        case "c":
          return timer[name];
        case "trimmer":
          return trimmer && trimmer.part;
        case "leakage": {
          const { typical, limit } = leakage;
          return limit === null || limit === 0 ? null : { ...even(limit), nominal: (2 * typical) / limit - 1 };
        }
        case "chip":
          return chip && TIMER_CHIPS[chip].error;
        case "reading":
          return trimmer !== null && trimmer.setting.kind === "step" ? even(trimmer.setting.reading) : null;
        case "quartz":
          return null;
      }
    }
  }
}

function even(limit: number): Limits {
  return { minus: limit, plus: limit };
}
