import { outletsOf } from "../parts/joined.js";
import { lampAmps, strings } from "../parts/lamps.js";
import { seriesResistor, type Channel } from "../parts/seriesresistor.js";
import type { Lamp, Load, Scenario } from "../model/scenario.js";
import { ohms } from "../units/quantities.js";
import type { Goods } from "./model.js";

/** Lamps at one terminal of a house: how many of each kind, by index. */
export type Lamps = ReadonlyMap<number, number>;

/** The one set of lamps of a house whose outputs are wired together: of each kind as many as the output that has most of it. */
export function togetherLamps(scenario: Scenario, house: number): Lamps {
  const most = new Map<number, number>();
  for (const { board, output } of outletsOf(scenario, house)) {
    for (const [lamp, count] of lampsOf(scenario.boards[board]!.outputs[output]!, house)) most.set(lamp, Math.max(count, most.get(lamp) ?? 0));
  }
  return most;
}

/** The lamps that one output has in a house. */
export function lampsOf(loads: readonly Load[], house: number): Lamps {
  const counts = new Map<number, number>();
  for (const load of loads) if (load.house === house) counts.set(load.lamp, (counts.get(load.lamp) ?? 0) + load.lamps);
  return counts;
}

/** Ampere of lamps, and whether one of them has a filament. */
export function draw(scenario: Scenario, lamps: Lamps): { readonly amps: number; readonly filament: boolean } {
  let amps = 0;
  let filament = false;
  for (const [index, count] of lamps) {
    const lamp = scenario.lamps[index]!;
    amps += lampAmps(lamp, count);
    filament ||= lamp.cold !== null;
  }
  return { amps, filament };
}

/** A diode that carries the current of lamps: 100 mA, 1 A, 3 A (common practice, no source). */
export function diodeFor({ amps, filament }: ReturnType<typeof draw>): string {
  if (amps <= 0.1 && !filament) return "1N4148";
  return amps <= 1 ? "1N4001" : "1N5400";
}

/** Lamps in words: "2 × window". */
export function lampsInWords({ lamps }: Scenario, counts: Lamps): string {
  return [...counts].map(([lamp, count]) => `${count} × ${lamps[lamp]!.id}`).join(" + ");
}

interface Strings {
  readonly lamp: Lamp;
  /** Lamps in a string. */
  readonly lamps: number;
  readonly count: number;
  readonly ohms: number;
  readonly rated: number;
}

function ledStrings(scenario: Scenario, counts: Lamps, channel: Channel): Strings[] {
  return [...counts].flatMap(([index, count]) => {
    const lamp = scenario.lamps[index]!;
    return strings(lamp, count).flatMap((string) => {
      const resistor = seriesResistor(lamp, string.lamps, channel, scenario.supply.volts);
      return resistor === null ? [] : [{ lamp, lamps: string.lamps, count: string.count, ohms: resistor.ohms, rated: resistor.rated }];
    });
  });
}

/** What to buy for lamps: themselves, and the series resistors of bare LEDs. */
export function lampGoods(scenario: Scenario, counts: Lamps, channel: Channel): Goods[] {
  const lamps = [...counts].map(([index, count]): Goods => {
    const { id, amps, volts, led } = scenario.lamps[index]!;
    const rating = `${volts === null ? "" : `${volts} V, `}${Number((amps * 1000).toPrecision(3))} mA${led === null ? "" : `, LED ${led.forward} V`}`;
    return { what: "lamp", value: id, rating, count };
  });
  const resistors = ledStrings(scenario, counts, channel).map(
    ({ count, ohms: value, rated }): Goods => ({ what: "resistor", value: ohms.format(value), rating: `${rated} W`, count }),
  );
  return [...lamps, ...resistors];
}

/** How the bare LEDs among lamps are wired; null where there are none. */
export function seriesInWords(scenario: Scenario, counts: Lamps, channel: Channel): string | null {
  const all = ledStrings(scenario, counts, channel).map(({ lamp, lamps, count, ohms: value, rated }) => {
    const what = lamps === 1 ? `${lamp.id} with` : `${lamps} ${lamp.id} in series with`;
    return `${count} × (${what} ${ohms.format(value)}, ${rated} W)`;
  });
  return all.length === 0 ? null : all.join(" + ");
}
