import { DISCHARGE_DIODE, TIMER_CHIPS } from "../parts/chips.js";
import { trackShare } from "../parts/taper.js";
import type { Room } from "../model/scenario.js";
import type { AstableTimer, Part, Timer } from "../model/timer.js";
import { firstHighTime, highTime, lowTime } from "./astable.js";
import { actualLeakage, actualValue, errorAt, type Build } from "./build.js";
import { trim, type Reach } from "./trim.js";

/** The timer of one board in one build: how long its periods are, all random choices aside. */
export interface Clockwork {
  /** Seconds of one timer period that starts at room temperature `theta` (°C). Infinity: the timer stalls. */
  period(theta: number): number;
  /**
   * Seconds from switch-on to the first falling edge that a divider counts, or, without one, to the first clock of the
   * counter: the first high time, and without a divider a low time behind it.
   */
  firstPeriod(theta: number): number;
  /**
   * Seconds that |period| does not exceed at any complex temperature within `reach` K of `theta`; Infinity where that cannot
   * be told.
   */
  most(theta: number, reach: number): number;
  /** What an RC timer is made of at a room temperature; null for any other. */
  readonly circuit: ((theta: number) => Circuit) | null;
  /** Timer periods in one step. */
  readonly divide: number;
  readonly jitter: number;
  /** Relative growth per powered hour. */
  readonly drift: number;
  /** True when some part changes with temperature. */
  readonly warmthMatters: boolean;
  /** Whether the trimmer could be set to the wanted step time. */
  readonly reach: Reach;
  /** Resistance of the trimmer in circuit, ohms; null without a trimmer. */
  readonly trimmerOhms: number | null;
}

/** The parts of an RC timer as they count at one temperature: ohms, farads, and ampere drawn from the capacitor. */
export interface Circuit {
  /** What the capacitor charges through: Ra and Rb with the trimmer. */
  readonly r1: number;
  /** What it discharges through: Rb with the trimmer, where it belongs there. */
  readonly r2: number;
  readonly farads: number;
  readonly amps: number;
  /** Factor that the chip puts on all times. */
  readonly chip: number;
}

/** So many equal lengths; none of them, also of infinite ones, are no time. */
export function times(count: number, length: number): number {
  return count === 0 ? 0 : count * length;
}

/** The clockwork of a board with a timer of its own (not `carry`). */
export function clockwork(
  boardId: string,
  timer: Exclude<Timer, { kind: "carry" }>,
  volts: number,
  room: Room,
  build: Build,
): Clockwork {
  const deviation = (part: string): number | undefined => build.deviations.get(`${boardId}.${part}`);
  const common = { jitter: timer.jitter, drift: timer.drift, divide: 1, reach: "set" as const, trimmerOhms: null, circuit: null };
  switch (timer.kind) {
    case "astable":
      return astableClockwork(timer, volts, room, deviation);
    case "quartz": {
      const seconds = timer.step * (1 + timer.tolerance * (deviation("quartz") ?? 0));
      return { ...common, period: () => seconds, firstPeriod: () => seconds, most: () => Math.abs(seconds), warmthMatters: false };
    }
    case "measured": {
      const seconds = timer.step + timer.reading * (deviation("reading") ?? 0);
      const period = (theta: number): number => seconds * (1 + timer.tempco * (theta - room.mean));
      const most = (theta: number, reach: number): number => greatest(period(theta), period(theta + reach));
      return { ...common, period, firstPeriod: period, most, warmthMatters: timer.tempco !== 0 };
    }
  }
}

function astableClockwork(
  timer: AstableTimer,
  volts: number,
  room: Room,
  deviation: (part: string) => number | undefined,
): Clockwork {
  const chip = timer.chip === null ? null : TIMER_CHIPS[timer.chip];
  const value = (part: Part, name: string): number => actualValue(part, deviation(name) ?? 0);
  const ra = value(timer.ra, "ra");
  const rb = value(timer.rb, "rb");
  const c = value(timer.c, "c");
  const amps = actualLeakage(timer.leakage, deviation("leakage")) + (chip?.threshold ?? 0);
  const chipFactor = chip === null ? 1 : 1 + errorAt(chip.error, deviation("chip") ?? 0);
  const chipTempco = chip?.tempco ?? 0;
  const { trimmer } = timer;

  const circuit = (theta: number, trimmerOhms: number): Circuit => {
    const warmth = theta - 25;
    const extra = trimmer === null ? 0 : trimmerOhms * (1 + trimmer.part.tempco * warmth);
    const a = ra * (1 + timer.ra.tempco * warmth) + (trimmer?.in === "ra" ? extra : 0);
    const b = rb * (1 + timer.rb.tempco * warmth) + (trimmer?.in === "rb" ? extra : 0);
    const farads = c * (1 + timer.c.tempco * warmth);
    return { r1: a + b, r2: b, farads, amps, chip: chipFactor * (1 + chipTempco * warmth) };
  };
  const period = (theta: number, trimmerOhms: number): number => {
    const { r1, r2, farads, amps: drawn, chip: factor } = circuit(theta, trimmerOhms);
    return (highTime(volts, r1, farads, drawn) + lowTime(volts, r2, farads, drawn)) * factor;
  };
  const left = timer.discharge === "diode" ? DISCHARGE_DIODE.value : 0;
  const firstPeriod = (theta: number, trimmerOhms: number): number => {
    const { r1, r2, farads, amps: drawn, chip: factor } = circuit(theta, trimmerOhms);
    const high = firstHighTime(volts, r1, farads, drawn, left);
    // a divider counts the falling edge at the end of the high time; a counter the rising one after the low time
    return (high + (timer.divide > 1 ? 0 : lowTime(volts, r2, farads, drawn))) * factor;
  };

  let ohms = 0;
  let reach: Reach = "set";
  if (trimmer !== null) {
    const track = value(trimmer.part, "trimmer");
    if (trimmer.setting.kind === "dial") {
      ohms = track * trackShare(trimmer.taper, trimmer.setting.dial);
    } else {
      const wanted = trimmer.setting.step + trimmer.setting.reading * (deviation("reading") ?? 0);
      ({ ohms, reach } = trim(track, wanted, (x) => timer.divide * period(room.mean, x)));
    }
  }
  const tempcos = [timer.ra, timer.rb, timer.c, ...(trimmer === null ? [] : [trimmer.part])].map((part) => part.tempco);
  return {
    period: (theta) => period(theta, ohms),
    firstPeriod: (theta) => firstPeriod(theta, ohms),
    most: (theta, reach) => mostOf(circuit(theta, ohms), circuit(theta + reach, ohms), volts),
    circuit: (theta) => circuit(theta, ohms),
    divide: timer.divide,
    jitter: timer.jitter,
    drift: timer.drift,
    warmthMatters: chipTempco !== 0 || tempcos.some((tempco) => tempco !== 0),
    reach,
    trimmerOhms: trimmer === null ? null : ohms,
  };
}

/** The greatest absolute value of a linear function in a disc: from its values at the centre and at the rim. */
function greatest(centre: number, rim: number): number {
  return Math.abs(centre) + Math.abs(rim - centre);
}

/** A share of V/3: nearer to stalling than that, small errors of the parts become large ones of the time. */
const CLEAR = 1 / 8;

/**
 * What the period of a circuit does not exceed in a disc of complex temperatures, from the circuit at its centre and at its
 * rim: all parts change linearly with temperature. While I·R stays below V/3, both voltages in the logarithms of
 * `astable.ts` have positive real parts, between V/3 − I·R and 2V/3 + I·R in absolute value; the logarithm of their ratio is then at most that
 * of these bounds' ratio, and π for the angle.
 */
function mostOf(centre: Circuit, rim: Circuit, volts: number): number {
  const most = (part: keyof Circuit): number => greatest(centre[part], rim[part]);
  const r1 = most("r1");
  const r2 = most("r2");
  const drop = Math.abs(centre.amps) * Math.max(r1, r2);
  const least = volts / 3 - drop;
  if (least < (CLEAR * volts) / 3) return Infinity;
  return (r1 + r2) * most("farads") * most("chip") * (Math.log(((2 * volts) / 3 + drop) / least) + Math.PI);
}
