import { TIMER_CHIPS } from "../parts/chips.js";
import { trackShare } from "../parts/taper.js";
import type { AstableTimer, Part, Room, Timer } from "../model/scenario.js";
import { firstHighTime, highTime, lowTime } from "./astable.js";
import { actualLeakage, actualValue, type Build } from "./build.js";
import { trim, type Reach } from "./trim.js";

/** The timer of one board in one build: how long its periods are, all random choices aside. */
export interface Clockwork {
  /** Seconds of one timer period that starts at room temperature `theta` (°C). Infinity: the timer stalls. */
  period(theta: number): number;
  /** Seconds of the first period after switch-on. */
  firstPeriod(theta: number): number;
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

/** The clockwork of a board with a timer of its own (not `carry`). */
export function clockwork(
  boardId: string,
  timer: Exclude<Timer, { kind: "carry" }>,
  volts: number,
  room: Room,
  build: Build,
): Clockwork {
  const deviation = (part: string): number | undefined => build.deviations.get(`${boardId}.${part}`);
  const common = { jitter: timer.jitter, drift: timer.drift, divide: 1, reach: "set" as const, trimmerOhms: null };
  switch (timer.kind) {
    case "astable":
      return astableClockwork(timer, volts, room, deviation);
    case "quartz": {
      const seconds = timer.step * (1 + timer.tolerance * (deviation("quartz") ?? 0));
      return { ...common, period: () => seconds, firstPeriod: () => seconds, warmthMatters: false };
    }
    case "measured": {
      const seconds = timer.step + timer.reading * (deviation("reading") ?? 0);
      const period = (theta: number): number => seconds * (1 + timer.tempco * (theta - room.mean));
      return { ...common, period, firstPeriod: period, warmthMatters: timer.tempco !== 0 };
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
  const chipFactor = 1 + (chip?.error ?? 0) * (deviation("chip") ?? 0);
  const chipTempco = chip?.tempco ?? 0;
  const { trimmer } = timer;

  const times = (theta: number, trimmerOhms: number, first: boolean): number => {
    const warmth = theta - 25;
    const extra = trimmer === null ? 0 : trimmerOhms * (1 + trimmer.part.tempco * warmth);
    const a = ra * (1 + timer.ra.tempco * warmth) + (trimmer?.in === "ra" ? extra : 0);
    const b = rb * (1 + timer.rb.tempco * warmth) + (trimmer?.in === "rb" ? extra : 0);
    const farads = c * (1 + timer.c.tempco * warmth);
    const high = (first ? firstHighTime : highTime)(volts, a + b, farads, amps);
    return (high + lowTime(volts, b, farads, amps)) * chipFactor * (1 + chipTempco * warmth);
  };

  let ohms = 0;
  let reach: Reach = "set";
  if (trimmer !== null) {
    const track = value(trimmer.part, "trimmer");
    if (trimmer.setting.kind === "dial") {
      ohms = track * trackShare(trimmer.taper, trimmer.setting.dial);
    } else {
      const wanted = trimmer.setting.step + trimmer.setting.reading * (deviation("reading") ?? 0);
      ({ ohms, reach } = trim(track, wanted, (x) => timer.divide * times(room.mean, x, false)));
    }
  }
  const tempcos = [timer.ra, timer.rb, timer.c, ...(trimmer === null ? [] : [trimmer.part])].map((part) => part.tempco);
  return {
    period: (theta) => times(theta, ohms, false),
    firstPeriod: (theta) => times(theta, ohms, true),
    divide: timer.divide,
    jitter: timer.jitter,
    drift: timer.drift,
    warmthMatters: chipTempco !== 0 || tempcos.some((tempco) => tempco !== 0),
    reach,
    trimmerOhms: trimmer === null ? null : ohms,
  };
}
