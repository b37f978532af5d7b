import type * as z from "zod/mini";
import type { Lamp, Scenario } from "../model/scenario.js";
import { needsDiode } from "../parts/joined.js";
import { COLD_FILAMENT, loadAmps } from "../parts/lamps.js";
import { leastVoltsLeft } from "../parts/seriesresistor.js";
import { amps as ampsUnit, volts as voltsUnit } from "../units/quantities.js";
import type { Reading } from "./reading.js";
import { lampsSchema } from "./schema.js";

/** A lamp of a model takes some milliampere; above this, ampere, "mA" was forgotten more likely than not. */
const LARGE_LAMP_AMPS = 2;

/** The kinds of lamp of the file; one that nobody gave where it has none. */
export function resolveLamps(reading: Reading): Lamp[] {
  const entries = Object.entries(reading.piece(lampsSchema, reading.data["lamps"] ?? {}) ?? {});
  if (entries.length > 0) {
    return entries.map(([id, lamp]) => resolveLamp(reading, id, lamp));
  }
  if (reading.data["lamps"] === undefined) reading.assume("lamps", "one kind, 20 mA", "nothing given; common practice, no source");
  return [{ id: "lamp", amps: 0.02, volts: null, cold: null, led: null }];
}

function resolveLamp(reading: Reading, id: string, file: z.output<typeof lampsSchema>[string]): Lamp {
  const { amps, volts, watts, filament, cold, forward, in: inSeries } = file;
  if (amps !== undefined && amps > LARGE_LAMP_AMPS) {
    const found = ampsUnit.format(amps);
    const meant = amps >= 1 && amps <= 1000 ? `; is "${ampsUnit.format(amps / 1000)}" meant?` : "";
    reading.warn(["lamps", id, "amps"], `found ${reading.source.found(["lamps", id, "amps"])}, which is ${found} for every lamp of this ` +
      `kind${meant}`);
  }
  if (filament === true && cold === undefined) reading.assume(`lamps.${id}.cold`, `${COLD_FILAMENT.value} times the hot current`, COLD_FILAMENT.source);
  if (forward !== undefined && inSeries === undefined) reading.assume(`lamps.${id}.in`, "1", "nothing given: each LED has a resistor " +
    "of its own");
  return {
    id,
    amps: amps ?? watts! / volts!,
    volts: volts ?? null,
    cold: filament === true ? (cold ?? COLD_FILAMENT.value) : null,
    led: forward === undefined ? null : { forward, inSeries: inSeries ?? 1 },
  };
}

/** Bare LEDs need less than the supply leaves behind the driver; told once for a kind of lamp. */
export function refuseForward(reading: Reading, scenario: Scenario): void {
  const { boards, lamps, supply } = scenario;
  lamps.forEach((lamp, index) => {
    if (lamp.led === null) return;
    const { forward, inSeries } = lamp.led;
    const left = boards.flatMap(({ driver, outputs }, board) =>
      outputs.flatMap((loads, output) =>
        loads.flatMap((load) => {
          if (load.lamp !== index) return [];
          const channel = { driver: driver.kind, diode: needsDiode(scenario, { board, output }, load.house) };
          return [leastVoltsLeft(lamp, Math.min(load.lamps, inSeries), channel, supply.volts, loadAmps(lamps, loads))];
        }),
      ),
    );
    const least = Math.min(...left);
    if (least > 0) return;
    const inAll = inSeries === 1 ? "" : ` (${inSeries} in series: ${voltsUnit.format(Number((inSeries * forward).toPrecision(6)))})`;
    reading.report(
      ["lamps", lamp.id, "forward"],
      "value",
      `found ${voltsUnit.format(forward)}${inAll}; at ${voltsUnit.format(supply.volts)}, less what the driver loses, that leaves nothing ` +
        "for the resistor; " +
        `expected at most ${voltsUnit.format(Number((forward + least / inSeries).toPrecision(3)))}, fewer in series, or a higher supply`,
    );
  });
}
