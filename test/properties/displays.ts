/** Small displays of every sort for fast-check, random choices included, and the text of their scenario files. */
import fc from "fast-check";

export interface BoardText {
  readonly id: string;
  /** Flow mappings, as they stand in the file. */
  readonly timer: string;
  readonly counter: string;
  /** Houses on each output, by number. */
  readonly outputs: readonly (readonly number[])[];
}

export interface Display {
  readonly seed: string;
  /** Whole minutes after midnight, and for how many. */
  readonly from: number;
  readonly minutes: number;
  readonly overnight: boolean;
  readonly run: number;
  readonly swing: number;
  readonly glitches: number;
  /** Number of houses: h0, h1, … */
  readonly houses: number;
  readonly boards: readonly BoardText[];
}

const HOUSES = 6;

const outputsOf = (count: number): fc.Arbitrary<number[][]> =>
  fc.array(fc.uniqueArray(fc.nat(HOUSES - 1), { maxLength: 3 }), { minLength: count, maxLength: count });

const powerUp = fc.constantFrom("reset", "anywhere");
const rows = fc.array(fc.uniqueArray(fc.nat(3), { maxLength: 4 }), { minLength: 2, maxLength: 6 });

const counter: fc.Arbitrary<Pick<BoardText, "counter" | "outputs">> = fc
  .oneof(
    fc.record({ text: fc.integer({ min: 2, max: 10 }).map((n) => `kind: ring, steps: ${n}`), outputs: fc.constant(2) }),
    fc.integer({ min: 1, max: 5 }).map((n) => ({ text: `kind: johnson, stages: ${n}`, outputs: n })),
    fc.integer({ min: 1, max: 4 }).map((n) => ({ text: `kind: binary, bits: ${n}`, outputs: n })),
    fc.integer({ min: 3, max: 5 }).map((n) => ({ text: `kind: lfsr, bits: ${n}`, outputs: n })),
    rows.map((steps) => ({ text: `kind: table, steps: ${JSON.stringify(steps)}`, outputs: outputCount(steps) })),
    rows.map((steps) => ({ text: `kind: shuffle, steps: ${JSON.stringify(steps)}`, outputs: outputCount(steps) })),
  )
  .chain(({ text, outputs }) => fc.record({ counter: powerUp.map((how) => `{ ${text}, powerUp: ${how} }`), outputs: outputsOf(outputs) }));

function outputCount(steps: readonly (readonly number[])[]): number {
  return 1 + Math.max(-1, ...steps.flat());
}

/** Step times from 20 s; often round ones, so that boards meet in one instant. */
const step = fc.oneof(fc.constantFrom(20, 30, 60, 60, 90, 300), fc.integer({ min: 20_000_000, max: 400_000_000 }).map((us) => us / 1e6));
const jitter = fc.constantFrom("", "", ", jitter: 0.1 %", ", jitter: 5 %");
const drift = fc.constantFrom("", "", ", drift: 2 %/1000 h", ", drift: -50 %/1000 h");

const ownTimer: fc.Arbitrary<string> = fc
  .tuple(
    fc.oneof(
      step.map((seconds) => `kind: quartz, step: ${seconds}`),
      step.map((seconds) => `kind: measured, step: ${seconds}, tempco: 0.2 %/K`),
      fc
        .record({ rb: fc.integer({ min: 100, max: 900 }), c: fc.integer({ min: 20, max: 300 }) })
        .map(({ rb, c }) => `kind: astable, ra: 47k, rb: { value: ${rb}k, tempco: 100 ppm/K }, c: ${c} uF`),
      fc.integer({ min: 100, max: 900 }).map((rb) => `kind: astable, ra: 47k, rb: ${rb}k, c: 2.2 uF, divide: 50`),
    ),
    jitter,
    drift,
  )
  .map(([kind, j, d]) => `{ ${kind}${j}${d} }`);

/** A board with a timer of its own. */
export const boardOf = (id: string): fc.Arbitrary<BoardText> =>
  fc.tuple(ownTimer, counter).map(([timer, rest]) => ({ id, timer, ...rest }));

const boards: fc.Arbitrary<BoardText[]> = fc
  .array(fc.tuple(boardOf(""), fc.option(fc.nat(3), { freq: 2 })), { minLength: 1, maxLength: 4 })
  .map((drawn) =>
    drawn.map(([board, from], i) => {
      // only boards further up clock others, so that there are no circles
      const carried = from !== null && i > 0;
      return { ...board, id: `b${i}`, timer: carried ? `{ kind: carry, from: b${from % i} }` : board.timer };
    }),
  )
  .chain((made) => fc.shuffledSubarray(made, { minLength: made.length }));

export const display: fc.Arbitrary<Display> = fc.record({
  seed: fc.constantFrom("tide", "gull", "rope"),
  from: fc.integer({ min: 0, max: 1200 }),
  minutes: fc.integer({ min: 1, max: 120 }),
  overnight: fc.boolean(),
  run: fc.integer({ min: 1, max: 3 }),
  swing: fc.constantFrom(0, 0, 5),
  glitches: fc.constantFrom(0, 0, 30),
  houses: fc.constant(HOUSES),
  boards,
});

/** The scenario file of a display; `order` is the order in which the houses stand in it. */
export function textOf(display: Display, order: readonly number[] = Array.from({ length: display.houses }, (_, h) => h)): string {
  const { seed, from, minutes, overnight, run, swing, glitches } = display;
  return [
    "lampdrift: 1",
    "title: Random display",
    `seed: ${seed}`,
    `opening: { from: "${clock(from)}", until: "${clock(from + minutes)}", overnight: ${overnight ? "on" : "off"}, run: ${run} }`,
    `room: { mean: 20 °C, swing: ${swing} K }`,
    `supply: { glitches: ${glitches} }`,
    `houses: { ${order.map((h) => `h${h}: { zone: z${h % 2} }`).join(", ")} }`,
    "boards:",
    ...display.boards.map(
      ({ id, timer, counter: counting, outputs }) =>
        `  ${id}: { timer: ${timer}, counter: ${counting}, outputs: { ${outputs
          .map((houses, output) => `${output}: [${houses.map((h) => `h${h}`).join(", ")}]`)
          .join(", ")} } }`,
    ),
    "",
  ].join("\n");
}

function clock(minutes: number): string {
  return `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;
}
