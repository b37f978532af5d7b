/** Small scenarios of many sorts, each fixed by its seed. */
import { dayNames } from "./spec.js";
import type { Astable, Board, Counter, Spec, Timer } from "./spec.js";

/** Draws from one stream of pseudo-random numbers. */
interface Dice {
  /** uniform over [0, 1) */
  share(): number;
  /** a whole number from low to high, both included */
  whole(low: number, high: number): number;
  pick<T>(choices: readonly T[]): T;
  chance(probability: number): boolean;
}

/** mulberry32 (public domain, from memory): good enough to vary test cases, and the same everywhere. */
function diceOf(seed: number): Dice {
  let state = seed >>> 0;
  const share = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 15), z | 1);
    z ^= z + Math.imul(z ^ (z >>> 7), z | 61);
    return ((z ^ (z >>> 14)) >>> 0) / 2 ** 32;
  };
  const whole = (low: number, high: number) => low + Math.floor(share() * (high - low + 1));
  return {
    share,
    whole,
    pick: (choices) => choices[whole(0, choices.length - 1)]!,
    chance: (probability) => share() < probability,
  };
}

/** A scenario of 1 to 5 boards and 3 to 12 houses over 1 to 5 opening days. The same seed gives the same scenario. */
export function randomSpec(seed: number): Spec {
  const dice = diceOf(seed);
  const houses = Array.from({ length: dice.whole(3, 12) }, (_, i) => {
    const id = `house${i + 1}`;
    return dice.chance(0.75) ? { id, zone: dice.pick(["quay", "hill", "lane"]) } : { id };
  });
  const room = { mean: dice.whole(12, 28), swing: dice.pick([0, 0, 1.5, 3, 6]), warmest: 60 * dice.whole(0, 1439) };
  const volts = dice.pick([5, 9, 12, 15]);
  const boards: Board[] = [];
  for (let i = dice.whole(1, 5); i > 0; i--) {
    const timer = randomTimer(dice, volts, boards);
    const counter = randomCounter(dice, timer);
    const outputs = Array.from({ length: outputCount(counter) }, () => randomHouses(dice, houses));
    boards.push({ id: `board${boards.length + 1}`, timer, counter, outputs });
  }
  return {
    title: `Random ${seed}`,
    opening: randomOpening(dice),
    room,
    visitors: { stay: 60 * dice.whole(1, 40), returns: [dice.whole(20, 900), 60 * dice.whole(20, 90), 86400, 86400 * 2 + dice.whole(1, 7200)] },
    volts,
    houses,
    boards,
  };
}

function randomOpening(dice: Dice): Spec["opening"] {
  const wholeDay = dice.chance(0.15);
  const minutes = wholeDay ? 1440 : dice.whole(65, 360);
  const start = wholeDay ? 0 : dice.chance(0.2) ? 1440 - minutes : dice.whole(0, 1440 - minutes);
  const days = dayNames.filter(() => dice.chance(wholeDay ? 0.9 : 0.6));
  return {
    days: days.length > 0 ? days : ["wed"],
    from: 60 * start,
    until: 60 * (start + minutes),
    overnight: dice.chance(0.4),
    run: wholeDay ? 2 : dice.whole(1, 5),
  };
}

/** Step times of 5 s to 6 min; often round ones, so that boards meet in the same instant, also at opening and closing. */
function randomStep(dice: Dice): number {
  if (dice.chance(0.5)) return dice.pick([5, 10, 12, 15, 20, 30, 45, 60, 90, 120, 150, 300, 360]);
  return rounded(5 * 72 ** dice.share(), 4);
}

function randomTimer(dice: Dice, volts: number, earlier: Board[]): Timer {
  const drift = dice.chance(0.4) ? dice.pick([-0.01, 0.002, 0.005, 0.013]) : 0;
  if (earlier.length > 0 && dice.chance(0.35)) {
    return { kind: "carry", from: (dice.chance(0.5) ? earlier.at(-1)! : dice.pick(earlier)).id };
  }
  if (dice.chance(0.3)) return { kind: "quartz", step: randomStep(dice), drift };
  if (dice.chance(0.3)) return { kind: "measured", step: randomStep(dice), tempco: randomTempco(dice), drift };
  return randomAstable(dice, volts, drift);
}

function randomAstable(dice: Dice, volts: number, drift: number): Astable {
  const ra = rounded(1000 * 100 ** dice.share(), 3);
  const rb = rounded(10_000 * 50 ** dice.share(), 3);
  const trimmer = dice.chance(0.5)
    ? { ohms: dice.pick([10_000, 50_000, 250_000]), in: dice.pick(["ra", "rb"] as const), dial: dice.whole(0, 100) / 100 }
    : undefined;
  const track = trimmer ? trimmer.ohms * trimmer.dial : 0;
  const divide = dice.chance(0.3) ? dice.pick([2, 3, 8, 16]) : 1;
  const charge = ra + rb + track;
  const whole = charge + rb + (trimmer?.in === "rb" ? track : 0);
  const c = rounded(randomStep(dice) / divide / (Math.LN2 * whole), 4);
  // At most a twelfth of the supply is lost to leakage; a timer stalls at a third.
  const leakage = dice.chance(0.5) ? rounded((dice.share() * volts) / 12 / charge, 3) : 0;
  return {
    kind: "astable",
    ra: { value: ra, tempco: randomTempco(dice) },
    rb: { value: rb, tempco: randomTempco(dice) },
    c: { value: c, tempco: randomTempco(dice) },
    ...(trimmer ? { trimmer } : {}),
    leakage,
    divide,
    diode: dice.chance(0.4),
    drift,
  };
}

function randomTempco(dice: Dice): number {
  return dice.chance(0.4) ? 0 : rounded((dice.share() - 0.5) * 0.002, 3);
}

function randomCounter(dice: Dice, timer: Timer): Counter {
  switch (dice.pick(["ring", "ring", "johnson", "binary", "lfsr", "table", "table"] as const)) {
    case "ring":
      return { kind: "ring", steps: dice.whole(2, 10) };
    case "johnson":
      return { kind: "johnson", stages: dice.whole(2, 5) };
    case "binary":
      return { kind: "binary", bits: dice.whole(1, 4) };
    case "lfsr":
      return dice.pick([
        { kind: "lfsr", bits: 3, taps: [3, 2] },
        { kind: "lfsr", bits: 3, taps: [3, 1] },
        { kind: "lfsr", bits: 4, taps: [4, 3] },
        { kind: "lfsr", bits: 4, taps: [4, 1] },
        { kind: "lfsr", bits: 5, taps: [5, 3] },
      ]);
    case "table": {
      const outputs = dice.whole(2, 6);
      const steps = Array.from({ length: dice.whole(2, 7) }, () => [...Array(outputs).keys()].filter(() => dice.chance(0.4)));
      // A carry board has no step time, and a divider makes it unclear what is held: neither gets a hold.
      const plain = timer.kind === "carry" || (timer.kind === "astable" && timer.divide > 1) || dice.chance(0.4);
      return { kind: "table", steps, hold: steps.map(() => (plain ? 1 : dice.whole(1, 4))) };
    }
  }
}

function outputCount(counter: Counter): number {
  switch (counter.kind) {
    case "ring":
      return counter.steps;
    case "johnson":
      return counter.stages;
    case "binary":
    case "lfsr":
      return counter.bits;
    case "table":
      return Math.max(-1, ...counter.steps.flat()) + 1;
  }
}

/** The houses of one output: often one, sometimes none, sometimes several; nothing keeps two boards from lighting the same one. */
function randomHouses(dice: Dice, houses: { id: string }[]): string[] {
  const count = dice.pick([0, 1, 1, 1, 2, 3]);
  const ids = Array.from({ length: count }, () => dice.pick(houses).id);
  return [...new Set(ids)];
}

function rounded(value: number, digits: number): number {
  return Number(value.toPrecision(digits));
}
