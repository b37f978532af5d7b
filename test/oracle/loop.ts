/**
 * What a display shows, worked out by hand: each board is walked alone into a list of its positions, then the lists
 * are laid side by side. There is no event queue. Times are whole microseconds from Monday 00:00:00.
 */
import { cycleLength, holdAt, outputsOn } from "./counters.js";
import { dayNames } from "./spec.js";
import type { Board, Spec, Timer } from "./spec.js";

export interface Spell {
  from: number;
  until: number;
  /** indices of the lit houses, in the order of the houses, ascending */
  lit: number[];
}

export interface OpeningSpells {
  from: number;
  until: number;
  spells: Spell[];
}

export interface BoardTimes {
  id: string;
  /** number of positions in a cycle */
  steps: number;
  /** at the room's mean temperature, without drift and hold; of a carry board: the cycle of the board it follows */
  stepSeconds: number;
  /** the same for the step after switch-on; null on a carry board */
  firstStepSeconds: number | null;
  cycleSeconds: number;
}

export interface Shown {
  openings: OpeningSpells[];
  /** counter clock pulses of each board while it is powered, open or not */
  pulses: number[];
  boards: BoardTimes[];
}

const second = 1_000_000;
const hour = 3600 * second;
const day = 24 * hour;

interface Stretch {
  from: number;
  until: number;
}

/** The positions of one board in time: it stands at `step` from `at` until the next entry. */
interface Walk {
  positions: { at: number; step: number }[];
  pulses: number;
  /** moments at which a pulse brought the board back to step 0 */
  returns: number[];
}

/** Everything the display of a spec shows while it is open. Throws where a timer stalls or a carry board has a hold. */
export function spellsOf(spec: Spec): Shown {
  const openings = openingsOf(spec);
  const powered = poweredStretches(spec, openings);
  const walks: Walk[] = [];
  for (const board of spec.boards) {
    if (board.timer.kind === "carry") {
      walks.push(walkCarry(board, walks[boardIndex(spec, board.timer.from)]!.returns, split(powered, board.restarts)));
    } else {
      walks.push(walkTimed(spec, board, board.timer, split(powered, board.restarts)));
    }
  }
  const times: BoardTimes[] = [];
  for (const board of spec.boards) times.push(timesOf(spec, board, times));
  return {
    openings: openings.map((opening) => ({ ...opening, spells: spellsIn(opening, spec, walks) })),
    pulses: walks.map((walk) => walk.pulses),
    boards: times,
  };
}

/** The first `run` days, from Monday on, that are opening days. */
function openingsOf(spec: Spec): Stretch[] {
  const openings: Stretch[] = [];
  for (let date = 0; openings.length < spec.opening.run; date++) {
    if (!spec.opening.days.includes(dayNames[date % 7]!)) continue;
    openings.push({ from: date * day + spec.opening.from * second, until: date * day + spec.opening.until * second });
  }
  return openings;
}

/** When the boards have power: each opening, or from the first opening to the end of the last without a break. */
function poweredStretches(spec: Spec, openings: Stretch[]): Stretch[] {
  if (!spec.opening.overnight) return openings;
  return [{ from: openings[0]!.from, until: openings[openings.length - 1]!.until }];
}

/** The stretches, cut where the power is gone and back at once. */
function split(stretches: Stretch[], moments: readonly number[] = []): Stretch[] {
  return stretches.flatMap(({ from, until }) => {
    const cuts = [from, ...moments.filter((at) => at > from && at < until), until];
    return cuts.slice(1).map((end, i) => ({ from: cuts[i]!, until: end }));
  });
}

function walkTimed(spec: Spec, board: Board, timer: Exclude<Timer, { kind: "carry" }>, powered: Stretch[]): Walk {
  const walk: Walk = { positions: [], pulses: 0, returns: [] };
  const cycle = cycleLength(board.counter);
  const periodsInStep = timer.kind === "astable" ? timer.divide : 1;
  let poweredBefore = 0;
  for (const { from, until } of powered) {
    let step = board.wakes ?? 0;
    let now = from;
    let afterSwitchOn = true;
    walk.positions.push({ at: from, step });
    for (;;) {
      // With a divider each period is measured and rounded by itself, at the temperature and age of its own start.
      for (let period = 0; period < periodsInStep; period++) {
        // A divider counts falling edges of the timer: the first comes at the end of the first high time.
        const { toFall, whole } = spanSeconds(spec, timer, roomAt(spec, now), afterSwitchOn);
        const plain = afterSwitchOn && periodsInStep > 1 ? toFall : whole;
        const aged = 1 + (timer.drift * (poweredBefore + now - from)) / hour / 1000;
        now += Math.round(plain * holdAt(board.counter, step) * aged * second);
        afterSwitchOn = false;
      }
      if (now >= until) break;
      step = (step + 1) % cycle;
      walk.pulses++;
      walk.positions.push({ at: now, step });
      if (step === 0) walk.returns.push(now);
    }
    poweredBefore += until - from;
  }
  return walk;
}

function walkCarry(board: Board, clockPulses: number[], powered: Stretch[]): Walk {
  if ([...Array(cycleLength(board.counter)).keys()].some((step) => holdAt(board.counter, step) !== 1)) {
    throw new Error(`${board.id}: a carry board has no step time to hold`);
  }
  const walk: Walk = { positions: [], pulses: 0, returns: [] };
  for (const { from, until } of powered) {
    let step = board.wakes ?? 0;
    walk.positions.push({ at: from, step });
    for (const at of clockPulses.filter((pulse) => pulse > from && pulse < until)) {
      step = (step + 1) % cycleLength(board.counter);
      walk.pulses++;
      walk.positions.push({ at, step });
      if (step === 0) walk.returns.push(at);
    }
  }
  return walk;
}

/** The room's temperature in °C. */
function roomAt(spec: Spec, at: number): number {
  const { mean, swing, warmest } = spec.room;
  return mean + swing * Math.cos((2 * Math.PI * (at - warmest * second)) / day);
}

/**
 * One period of the timer (a step, where nothing divides it) in seconds, not rounded, at a room temperature: all of it,
 * and up to where the output falls.
 */
function spanSeconds(
  spec: Spec,
  timer: Exclude<Timer, { kind: "carry" }>,
  theta: number,
  afterSwitchOn: boolean,
): { toFall: number; whole: number } {
  if (timer.kind === "quartz") return { toFall: timer.step, whole: timer.step };
  if (timer.kind === "measured") {
    const seconds = timer.step * (1 + timer.tempco * (theta - spec.room.mean));
    return { toFall: seconds, whole: seconds };
  }
  const warm = (part: { value: number; tempco: number }) => part.value * (1 + part.tempco * (theta - 25));
  const track = timer.trimmer ? timer.trimmer.ohms * timer.trimmer.dial : 0;
  const ra = warm(timer.ra) + (timer.trimmer?.in === "ra" ? track : 0);
  const rb = warm(timer.rb) + (timer.trimmer?.in === "rb" ? track : 0);
  const c = warm(timer.c);
  const v = spec.volts;
  // The capacitor charges through ra + rb towards the supply, less what the leakage drops across them, and is
  // discharged through rb towards ground, which the leakage helps along.
  const aim = v - timer.leakage * (ra + rb);
  if (aim <= (2 * v) / 3) throw new Error("this timer stalls");
  const start = !afterSwitchOn ? v / 3 : timer.diode ? 0.6 : 0;
  const high = (ra + rb) * c * Math.log((aim - start) / (aim - (2 * v) / 3));
  const low = rb * c * Math.log(((2 * v) / 3 + timer.leakage * rb) / (v / 3 + timer.leakage * rb));
  return { toFall: high, whole: high + low };
}

function timesOf(spec: Spec, board: Board, earlier: BoardTimes[]): BoardTimes {
  const { timer, counter } = board;
  const steps = cycleLength(counter);
  let stepSeconds: number;
  let firstStepSeconds: number | null = null;
  if (timer.kind === "carry") {
    stepSeconds = earlier.find((other) => other.id === timer.from)!.cycleSeconds;
  } else {
    const period = spanSeconds(spec, timer, spec.room.mean, false).whole;
    const periods = timer.kind === "astable" ? timer.divide : 1;
    stepSeconds = periods * period;
    const first = spanSeconds(spec, timer, spec.room.mean, true);
    firstStepSeconds = periods > 1 ? first.toFall + (periods - 1) * period : first.whole;
  }
  let cycleSeconds = 0;
  for (let step = 0; step < steps; step++) cycleSeconds += stepSeconds * holdAt(counter, step);
  return { id: board.id, steps, stepSeconds, firstStepSeconds, cycleSeconds };
}

/** The houses a board alone lights at a step, as indices in the order of the houses. */
export function housesLit(spec: Spec, board: Board, step: number): Set<number> {
  const ids = outputsOn(board.counter, step).flatMap((output) => board.outputs[output] ?? []);
  return new Set(ids.map((id) => spec.houses.findIndex((house) => house.id === id)));
}

function boardIndex(spec: Spec, id: string): number {
  return spec.boards.findIndex((board) => board.id === id);
}

/** Lays the walks side by side over one opening. */
function spellsIn(opening: Stretch, spec: Spec, walks: Walk[]): Spell[] {
  const litBy = spec.boards.map((board) =>
    [...Array(cycleLength(board.counter)).keys()].map((step) => housesLit(spec, board, step)),
  );
  const moments = new Set([opening.from]);
  for (const walk of walks) {
    for (const { at } of walk.positions) if (at >= opening.from && at < opening.until) moments.add(at);
  }
  const standing = walks.map(() => 0);
  const spells: Spell[] = [];
  for (const moment of [...moments].sort((a, b) => a - b)) {
    const lit = new Set<number>();
    walks.forEach((walk, b) => {
      while (standing[b]! + 1 < walk.positions.length && walk.positions[standing[b]! + 1]!.at <= moment) standing[b]!++;
      for (const house of litBy[b]![walk.positions[standing[b]!]!.step]!) lit.add(house);
    });
    const scene = [...lit].sort((a, b) => a - b);
    const last = spells.at(-1);
    if (last && last.lit.join() === scene.join()) continue;
    if (last) last.until = moment;
    spells.push({ from: moment, until: opening.until, lit: scene });
  }
  return spells;
}
