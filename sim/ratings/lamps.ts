import { DRIVERS } from "../parts/drivers.js";
import { alwaysThroughDiode } from "../parts/joined.js";
import { strings } from "../parts/lamps.js";
import { seriesResistor, SERIES_RESISTOR_SOURCE } from "../parts/seriesresistor.js";
import type { Board, Scenario } from "../model/scenario.js";
import type { Demand } from "./demand.js";
import { ohms } from "../units/quantities.js";
import { atLeast, atMost, type Rating } from "./rating.js";

/** Below this share of its rated voltage a lamp looks dim: a third of its light is left (common practice, no source). */
const DIM = 0.7;

/**
 * What the lamps of each kind with a rated voltage get on a board, behind the typical drop of the driver. Rated voltage
 * is the limit upwards, and what a lamp should have: downwards the limit is 70 % of it. For each kind the output
 * that is worst off.
 */
export function lampRatings(board: Board, index: number, demand: Demand, scenario: Scenario): Rating[] {
  const kind = DRIVERS[board.driver.kind];
  const { volts } = scenario.supply;
  return scenario.lamps.flatMap(({ id, volts: rated }, lamp) => {
    if (rated === null) return [];
    const rows = board.outputs.flatMap((loads, output) => {
      if (!loads.some((load) => load.lamp === lamp)) return [];
      const amps = demand.outputAmps[index]![output]!;
      const value = Math.max(0, volts - kind.drop(amps, "typical"));
      const row = { what: "lamp voltage", where: `${board.id} output ${output}, ${id}`, value, unit: "V" };
      const source = `${rated} V rated. Volts lost: ${kind.dropSource}`;
      if (value > rated) {
        return [atMost({ ...row, limit: rated, source, advice: "take lamps of a higher voltage, lower the supply, or put a resistor " +
          "in series" })];
      }
      return [
        atLeast({
          ...row,
          limit: DIM * rated,
          source: `${DIM * 100} % of ${source}`,
          advice: "the lamp looks dim: raise the supply, put fewer lamps on this output, or use logic-level MOSFETs",
        }),
      ];
    });
    const worst = rows.reduce<Rating | undefined>((a, b) => (a !== undefined && a.share >= b.share ? a : b), undefined);
    return worst === undefined ? [] : [worst];
  });
}

/** The series resistor of every kind of string of bare LEDs on a board: its heat against what it is made for. */
export function resistorRatings(board: Board, scenario: Scenario): Rating[] {
  const { lamps, supply } = scenario;
  return lamps.flatMap((lamp, index) => {
    const parts = board.outputs.flat().flatMap((load) => {
      if (load.lamp !== index) return [];
      const channel = { driver: board.driver.kind, diode: alwaysThroughDiode(scenario, load.house) };
      return strings(lamp, load.lamps).map(({ lamps: inSeries }) => ({ inSeries, part: seriesResistor(lamp, inSeries, channel, supply.volts) }));
    });
    const kinds = new Map(parts.map((each) => [`${each.inSeries} ${each.part?.ohms}`, each]));
    return [...kinds.values()].flatMap(({ inSeries, part }) => {
      if (part === null) return [];
      return [
        atMost({
          what: `series resistor ${ohms.format(part.ohms)}`,
          where: `${board.id}, ${lamp.id}${inSeries === 1 ? "" : ` (${inSeries} in series)`}`,
          value: part.watts,
          limit: part.rated,
          unit: "W",
          source: `a resistor made for ${part.rated} W; ${SERIES_RESISTOR_SOURCE}`,
          advice: "put more LEDs in series on one resistor, or lower the supply",
        }),
      ];
    });
  });
}
