import { FIXED_REGULATOR, heatLimit, regulatorHeat } from "../parts/regulators.js";
import type { Scenario } from "../model/scenario.js";
import type { Demand } from "./demand.js";
import { atLeast, atMost, type Rating } from "./rating.js";

/** Ratings of supply (where the scenario gives its limit) and regulator (where there is one): lamps, chips and driver inputs. */
export function supplyRatings({ supply, room }: Scenario, demand: Demand): Rating[] {
  return [...limitRatings(supply.limit, demand), ...regulatorRatings(supply, room.mean + room.swing, demand)];
}

function limitRatings(limit: number | null, { total, mean }: Demand): Rating[] {
  if (limit === null) return [];
  const row = { where: "supply", limit, unit: "A", source: "supply.limit of the scenario" };
  const advice = "take a stronger supply, or let fewer lamps be on at once";
  return [
    atMost({ ...row, what: "supply current, worst moment", ...total, advice }),
    atMost({ ...row, what: "supply current, mean", value: mean, advice }),
  ];
}

function regulatorRatings({ volts, regulator }: Scenario["supply"], warmest: number, { total }: Demand): Rating[] {
  if (regulator === null) return [];
  const { input, dropout, thermal } = regulator;
  const { inputMost, junction, outMost } = FIXED_REGULATOR;
  return [
    atLeast({
      what: "regulator headroom",
      where: "supply",
      value: input - volts,
      limit: dropout,
      unit: "V",
      source: `dropout ${dropout} V, as given or assumed in the scenario`,
      advice: "feed the regulator with more volts, or take a low-dropout type",
    }),
    atMost({
      what: "regulator input voltage",
      where: "supply",
      value: input,
      limit: inputMost.value,
      unit: "V",
      source: inputMost.source,
      advice: "feed the regulator with fewer volts",
    }),
    atMost({
      what: "regulator current",
      where: "supply",
      value: total.value,
      worst: total.worst,
      limit: outMost.value,
      unit: "A",
      source: outMost.source,
      advice: "let fewer lamps be on at once, share the display between two regulators, or take a switching regulator",
    }),
    atMost({
      what: "regulator heat",
      where: "supply",
      value: regulatorHeat(input, volts, total.value),
      worst: total.worst,
      limit: heatLimit(junction.value, thermal, warmest),
      unit: "W",
      source: `${thermal} K/W, as given or assumed in the scenario; ${junction.source}; room at ${warmest} °C`,
      advice: "fit a heat sink (and give its K/W), feed the regulator with fewer volts, or take a switching regulator",
    }),
  ];
}
