interface Bench {
  readonly title: string;
  readonly days: number;
  /** Step time of each board in seconds, and the houses that each of its steps lights. */
  readonly boards: readonly { readonly step: number; readonly steps: readonly (readonly number[])[] }[];
  readonly jitter?: string;
  /** Open and powered day and night (default), or in these hours. */
  readonly hours?: string;
}

/** A display of programmed boards, each with houses of its own, numbered from 0 on each. */
function display({ title, days, boards, jitter = "0", hours = "overnight: on" }: Bench): string {
  return [
    "lampdrift: 1",
    `title: ${title}`,
    `opening: { ${hours}, run: ${days} }`,
    "houses:",
    ...boards.flatMap(({ steps }, b) => Array.from({ length: 1 + Math.max(...steps.flat()) }, (_, i) => `  b${b}h${i}:`)),
    "boards:",
    ...boards.map(({ step, steps }, b) => {
      const outputs = steps.map((lit, i) => `${i}: [${lit.map((house) => `b${b}h${house}`).join(", ")}]`);
      return `  b${b}: { timer: { kind: quartz, step: ${step} s, jitter: ${jitter} }, counter: { kind: ring, steps: ${steps.length} }, outputs: { ${outputs.join(", ")} } }`;
    }),
    "",
  ].join("\n");
}

/** Eight houses on a ring: one a step, and pairs of them at the steps beyond the eighth. */
export function ringOfEight(steps: number): number[][] {
  return Array.from({ length: steps }, (_, i) => (i < 8 ? [i] : [i - 8, i - 4]));
}

export const THREE_STEPS = [170, 130, 220] as const;

/** Three boards of ten steps and eight houses each. */
export function threeBoardsFor(days: number, jitter: string): string {
  return display({ title: "Three boards", days, jitter, boards: THREE_STEPS.map((step) => ({ step, steps: ringOfEight(10) })) });
}

export const EIGHT_STEPS = [131, 149, 163, 173, 181, 193, 211, 223] as const;
/** Steps of each of the eight rings: 25 million joint positions in all. */
export const EIGHT_RINGS = [8, 8, 8, 8, 8, 8, 8, 12] as const;

/** Eight boards of eight houses each, without jitter. */
export function eightBoardsFor(days: number): string {
  return display({ title: "Eight boards", days, boards: EIGHT_STEPS.map((step, b) => ({ step, steps: ringOfEight(EIGHT_RINGS[b]!) })) });
}

/** Seconds of a step of each of so many boards: all go at a pace of their own. */
export function paces(boards: number): number[] {
  return Array.from({ length: boards }, (_, b) => Math.round(1e5 * (1 + b / boards)) / 1000);
}

/** So many rings of so many houses, one a step, at {@link paces}. */
export function manyBoards(boards: number, houses: number, days: number, hours?: string): string {
  const ring = Array.from({ length: houses }, (_, i) => [i]);
  return display({
    title: `${boards} boards`,
    days,
    jitter: "0.5 %",
    boards: paces(boards).map((step) => ({ step, steps: ring })),
    ...(hours === undefined ? {} : { hours }),
  });
}
