import { COUNTER_SUPPLY, SOURCE_POINTS_SOURCE } from "../parts/counters.js";
import { DARLINGTON_INPUT, DRIVERS, MOSFET_GATE, saturatingInput } from "../parts/drivers.js";
import { driverPackages } from "../parts/packages.js";
import { heatLimit } from "../parts/regulators.js";
import { COLD_FILAMENT, loadAmps } from "../parts/lamps.js";
import type { Board, Lamp, Room, Supply } from "../model/scenario.js";
import type { Demand } from "./demand.js";
import { atLightLoad } from "./lightload.js";
import { inputAmps } from "./own.js";
import { atLeast, atMost, between, type Rating } from "./rating.js";

/** Whether a board counts with chips of the 4000 series; a quartz timer, a table and a shuffle are programmed parts. */
export function countsWithChips({ timer, counter }: Board): boolean {
  if (timer.kind === "quartz") return false;
  switch (counter.kind) {
    case "ring":
    case "johnson":
    case "binary":
    case "lfsr":
      return true;
    case "table":
    case "shuffle":
      return false;
  }
}

/** Ratings of the driver channels and packages of a board. */
export function driverRatings(board: Board, index: number, demand: Demand, room: Room, lamps: readonly Lamp[]): Rating[] {
  const { id, driver, outputs } = board;
  const kind = DRIVERS[driver.kind];
  const amps = demand.outputAmps[index]!;
  const channels = outputs.flatMap((loads, output) =>
    loads.length === 0
      ? []
      : [
          atMost({
            what: "driver channel current",
            where: `${id} output ${output}`,
            value: amps[output]!,
            limit: kind.channelAmps.value,
            unit: "A",
            source: kind.channelAmps.source,
            worst: demand.peakOfBoard(index, (on) => (on.includes(output) ? amps[output]! : 0)).worst,
            advice:
              driver.kind === "mosfet"
                ? "spread these lamps over more outputs, or take a larger MOSFET with a heat sink"
                : "spread these lamps over more outputs, tie two channels together (input to input, output to output), " +
                  "or switch them with logic-level MOSFETs (driver: { kind: mosfet })",
          }),
        ],
  );
  return [...channels, ...inrushRatings(board, index, demand, lamps), ...packageRatings(board, index, demand, room)];
}

/** What a channel meets when it comes on and its filaments are cold; other lamps on it count with their own current. */
function inrushRatings({ id, driver, outputs }: Board, index: number, demand: Demand, lamps: readonly Lamp[]): Rating[] {
  const { peakAmps } = DRIVERS[driver.kind];
  return outputs.flatMap((_, output) => {
    const loads = demand.outputLoads[index]![output]!;
    if (!loads.some(({ lamp }) => lamps[lamp]!.cold !== null)) return [];
    const value = loads.reduce((sum, load) => sum + loadAmps(lamps, [load]) * (lamps[load.lamp]!.cold ?? 1), 0);
    return [
      atMost({
        what: "filament at switch-on",
        where: `${id} output ${output}`,
        value,
        limit: peakAmps.value,
        unit: "A",
        source: `${peakAmps.source}; ${COLD_FILAMENT.source}, unless the scenario gives cold`,
        worst: demand.peakOfBoard(index, (on) => (on.includes(output) ? value : 0)).worst,
        advice: "take LEDs, fewer filament lamps on this output, or a resistor in series with each lamp that limits the cold current",
      }),
    ];
  });
}

function packageRatings({ id, driver, outputs }: Board, index: number, demand: Demand, room: Room): Rating[] {
  const kind = DRIVERS[driver.kind];
  const amps = demand.outputAmps[index]!;
  const warmest = room.mean + room.swing;
  const thermal = driver.thermal ?? kind.thermal.value;
  const heatOf = (output: number): number => amps[output]! * kind.drop(amps[output]!, "most");
  return driverPackages({ driver, outputs }).flatMap((channels, p) => {
    const where = `${id} driver ${p + 1} (${channels.length === 1 ? "output" : "outputs"} ${channels.join(", ")})`;
    const sumOver = (amount: (output: number) => number) => (on: readonly number[]) =>
      channels.reduce((sum, output) => (on.includes(output) ? sum + amount(output) : sum), 0);
    const heat = atMost({
      what: "driver package heat",
      where,
      ...demand.peakOfBoard(index, sumOver(heatOf)),
      limit: heatLimit(kind.junction.value, thermal, warmest),
      unit: "W",
      source:
        `${driver.thermal === null ? kind.thermal.source : `${driver.thermal} K/W as given`}; ${kind.junction.source}; ` +
        `room at ${warmest} °C. Volts lost: ${kind.dropSource}`,
      advice: "share these lamps among more packages, let fewer of these outputs be on at once, or use logic-level MOSFETs",
    });
    if (kind.packageAmps === null) return [heat];
    const current = atMost({
      what: "driver package current",
      where,
      ...demand.peakOfBoard(index, sumOver((output) => amps[output]!)),
      limit: kind.packageAmps.value,
      unit: "A",
      source: kind.packageAmps.source,
      advice: "share these lamps among more packages, or let fewer of these outputs be on at once",
    });
    return [current, heat];
  });
}

/** Ratings of a board's counter: its supply, and its hardest driver input. Nothing for programmed parts. */
export function counterRatings(board: Board, index: number, demand: Demand, supply: Supply): Rating[] {
  const { volts } = supply;
  const amps = demand.outputAmps[index]!;
  const hardest = amps.indexOf(Math.max(...amps));
  if (!countsWithChips(board) || hardest < 0 || amps[hardest] === 0) return [];
  const running = between(
    {
      what: "counter supply",
      where: board.id,
      value: volts,
      unit: "V",
      source: COUNTER_SUPPLY.source,
      advice: `run the counter at ${COUNTER_SUPPLY.least} to ${COUNTER_SUPPLY.most} V`,
    },
    COUNTER_SUPPLY.least,
    COUNTER_SUPPLY.most,
  );
  const most = atLightLoad(supply);
  // a steady supply that is within the range for running is below the other limit too
  const destroyed = atMost({
    what: "counter supply, absolute maximum",
    where: board.id,
    value: most.volts,
    limit: COUNTER_SUPPLY.destroys,
    unit: "V",
    source: `${COUNTER_SUPPLY.destroysSource}${most.because}`,
    advice: "beyond it the chip is destroyed: lower the supply, or regulate it",
  });
  const rows = most.steady ? [running] : [running, destroyed];
  const where = `${board.id} output ${hardest}`;
  if (board.driver.kind === "mosfet") {
    const gate = atLeast({
      what: "gate voltage",
      where,
      value: volts,
      limit: MOSFET_GATE.value,
      unit: "V",
      source: MOSFET_GATE.source,
      advice: "run the counter at a higher voltage, or take Darlington channels (driver: { kind: darlington-8 })",
    });
    return [...rows, gate];
  }
  // At a low supply the loaded output settles far below the rail; what then flows is what it can source
  const limit = inputAmps(volts);
  const source = atMost({
    what: "counter output current",
    where,
    value: saturatingInput(amps[hardest]!),
    limit,
    unit: "A",
    source: `driver input ${DARLINGTON_INPUT.ohms.source}, output ${SOURCE_POINTS_SOURCE}`,
    advice: "run the counter at a higher voltage, put fewer lamps on this output, or use logic-level MOSFETs (driver: { kind: mosfet })",
  });
  return [...rows, source];
}
