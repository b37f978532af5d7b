import { houseName } from "../model/housename.js";
import type { House, Scenario } from "../model/scenario.js";
import { alwaysThroughDiode, needsDiode, outletsOf } from "../parts/joined.js";
import { outletOf, type Driver } from "./drivers.js";
import { at, lead, terminal, type Harness } from "./harness.js";
import { diodeFor, draw, lampGoods, lampsInWords, lampsOf, togetherLamps, type Lamps } from "./lamps.js";
import type { Device, End, Goods } from "./model.js";

const PLUS_SIDE = "plus side";

/** Wire from board to house, metres: the straight way and a third more for going round things, and 20 cm for the ends. */
const WAY = { factor: 1.3, ends: 0.2 } as const;
const HEAVY_AMPS = 1;

/** Driver outputs to the houses, and the houses' other side to plus. */
export function wireHouses(harness: Harness, scenario: Scenario, b: number, drivers: readonly Driver[]): void {
  const { outputs } = scenario.boards[b]!;
  const named = [...new Set(outputs.flatMap((loads) => loads.map(({ house }) => house)))];
  const devices = new Map(named.map((house) => [house, harness.add(houseDevice(scenario, b, house))]));
  // where the one wire of a house's only set of lamps starts
  const starts = new Map<number, End>();
  outputs.forEach((loads, output) => {
    for (const house of new Set(loads.map((load) => load.house))) {
      const device = devices.get(house)!;
      const outlet = outletOf(scenario.boards[b]!, drivers, output);
      if (scenario.houses[house]!.wired === "apart") {
        const pin = device.pins.find(({ name }) => name.endsWith(`, output ${output}`))!;
        harness.join(outlet, { device, pin }, `output ${output}`, [house]);
        continue;
      }
      let from = outlet;
      if (needsDiode(scenario, { board: b, output }, house)) {
        const d = harness.diode(harness.next("D"), diodeFor(draw(scenario, togetherLamps(scenario, house))));
        harness.join(outlet, lead(d, 1), `output ${output}`, [house]);
        from = lead(d);
      }
      const start = starts.get(house);
      harness.join(from, start ?? { device, pin: device.pins[0]! }, start === undefined ? `output ${output}` : `output ${output}, same lamps`, [house]);
      if (start === undefined) starts.set(house, from);
    }
  });
  for (const [house, device] of devices) {
    if (device.pins.some(({ name }) => name === PLUS_SIDE)) harness.fromPlus(at(device, PLUS_SIDE), "plus of the house", [house]);
  }
}

/** The house as this board sees it. Its only set of lamps is counted with the first board that lights it. */
function houseDevice(scenario: Scenario, b: number, house: number): Device {
  const { outputs, driver } = scenario.boards[b]!;
  const { wired } = scenario.houses[house]!;
  const name = houseName(scenario, house);
  const outlets = outletsOf(scenario, house);
  const owner = outlets[0]!.board;
  if (wired === "together" && owner !== b) {
    const pins = [terminal(`lamps of board ${scenario.boards[owner]!.id}`)];
    return { role: "house", name, type: "house", pins, goods: harnessGoods(scenario, b, house, 1, togetherLamps(scenario, house)) };
  }
  const sets: { readonly name: string; readonly lamps: Lamps }[] =
    wired === "together"
      ? [togetherLamps(scenario, house)].map((lamps) => ({ name: lampsInWords(scenario, lamps), lamps }))
      : outlets.flatMap(({ board, output }) => {
          if (board !== b) return [];
          const lamps = lampsOf(outputs[output]!, house);
          return [{ name: `${lampsInWords(scenario, lamps)}, output ${output}`, lamps }];
        });
  const plus = owner === b ? [PLUS_SIDE] : [];
  const channel = { driver: driver.kind, diode: alwaysThroughDiode(scenario, house) };
  const goods = sets.flatMap(({ lamps }) => lampGoods(scenario, lamps, channel));
  const all = new Map<number, number>();
  for (const { lamps } of sets) for (const [lamp, count] of lamps) all.set(lamp, (all.get(lamp) ?? 0) + count);
  const wires = sets.length + plus.length;
  return {
    role: "house",
    name,
    type: "house",
    pins: [...sets.map((set) => terminal(set.name)), ...plus.map(terminal)],
    goods: [...goods, ...harnessGoods(scenario, b, house, wires, all)],
  };
}

/** Connector and wire between board and house. */
function harnessGoods(scenario: Scenario, b: number, house: number, wires: number, lamps: Lamps): Goods[] {
  const length = wayTo(scenario, b, scenario.houses[house]!);
  const thick = draw(scenario, lamps).amps > HEAVY_AMPS;
  const connector: Goods = { what: "connector", value: `plug and socket, ${wires} ${wires === 1 ? "pole" : "poles"}`, rating: null, count: 1 };
  if (length === null) return [connector];
  return [connector, { what: "wire", value: "stranded wire", rating: thick ? "0.5 mm²" : "0.25 mm²", count: wires * length }];
}

/** Metres of wire from a board to a house; null where no place or scale is given. */
function wayTo({ boards, scale }: Scenario, b: number, { at: to }: House): number | null {
  const { at: from } = boards[b]!;
  if (from === null || to === null || scale === null) return null;
  return Math.hypot(to[0] - from[0], to[1] - from[1]) * scale * WAY.factor + WAY.ends;
}

/** How the length of wires was reckoned, in words. */
export const WAY_IN_WORDS =
  "Wire: the straight way from board to house on the plan, a third more for going round things, and 20 cm for the ends, for each wire " +
    "of the house.";
