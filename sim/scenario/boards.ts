import type * as z from "zod/mini";
import { isEven, sequence } from "../counters/sequence.js";
import { resolveCounter } from "./counters.js";
import type { Board, Counter, House, Lamp, Load } from "../model/scenario.js";
import type { Timer } from "../model/timer.js";
import { place } from "./fields.js";
import { knownHouses } from "./named.js";
import { knownWords } from "./problems.js";
import { mapping, type Mapping, type Path, type Reading } from "./reading.js";
import { counterSchema, driverSchema, outputsSchema } from "./boardschema.js";
import { resolveTimer } from "./timers.js";
import { timerSchema } from "./timerschema.js";

/** More boards than this would make every step of the simulation slow. */
const BOARDS_LIMIT = 500;

/** The boards of a file; those with something wrong are reported and left out. */
export function resolveBoards(reading: Reading, houses: readonly House[], lamps: readonly Lamp[]): Board[] {
  const file = mapping(reading.data["boards"]);
  const ids = Object.keys(file);
  if (ids.length === 0 && reading.data["boards"] !== undefined) {
    reading.report(["boards"], "value", "there are no boards; expected at least one");
  }
  if (ids.length > BOARDS_LIMIT) {
    reading.report(["boards"], "key", `found ${ids.length} boards; expected at most ${BOARDS_LIMIT}`);
    return [];
  }
  const boards = ids.flatMap((id) => resolveBoard(reading, id, mapping(file[id]), ids, houses, lamps) ?? []);
  refuseCircles(reading, ids, file);
  return boards;
}

function resolveBoard(
  reading: Reading,
  id: string,
  file: Mapping,
  ids: readonly string[],
  houses: readonly House[],
  lamps: readonly Lamp[],
): Board | undefined {
  const path: Path = ["boards", id];
  const timerFile = reading.piece(timerSchema, file["timer"]);
  const counterFile = reading.piece(counterSchema, file["counter"]);
  const outputsFile = reading.piece(outputsSchema, file["outputs"]);
  const driverFile = reading.piece(driverSchema, file["driver"] ?? {});
  const at = file["at"] === undefined ? null : (reading.piece(place, file["at"]) ?? null);
  let timer: Timer | undefined;
  if (timerFile !== undefined) {
    const report = (keys: Path, message: string): void => reading.report([...path, "timer", ...keys], "value", message);
    timer = resolveTimer(timerFile, `boards.${id}.timer`, ids, report, reading.assume);
  }
  let counter: Counter | undefined;
  if (counterFile !== undefined) {
    counter = resolveCounter(counterFile, (keys, message) =>
      reading.report([...path, "counter", ...keys], "value", message),
    );
  }
  if (timer?.kind === "carry" && counter !== undefined && !isEven(counter)) {
    reading.report([...path, "counter", "hold"], "value", "a board clocked by a carry has no step time to multiply; take hold out");
  }
  let outputs: Load[][] | undefined;
  if (outputsFile !== undefined) outputs = resolveOutputs(reading, path, outputsFile, counter, houses, lamps);
  if (timer === undefined || counter === undefined || outputs === undefined || driverFile === undefined) return undefined;
  if (file["driver"] === undefined) reading.assume(`boards.${id}.driver`, driverFile.kind, "nothing given");
  return { id, timer, counter, driver: { ...driverFile, thermal: driverFile.thermal ?? null }, outputs, at };
}

function resolveOutputs(
  reading: Reading,
  path: Path,
  file: z.output<typeof outputsSchema>,
  counter: Counter | undefined,
  houses: readonly House[],
  lamps: readonly Lamp[],
): Load[][] {
  const has = counter === undefined ? Infinity : sequence(counter).outputs;
  const outputs: Load[][] = Number.isFinite(has) ? Array.from({ length: has }, () => []) : [];
  for (const [number, loads] of Object.entries(file)) {
    const output = Number(number);
    const at: Path = [...path, "outputs", number];
    if (output >= has) {
      const known = has === 0 ? "no step switches any output on" : `its outputs are 0 to ${has - 1}`;
      reading.report(at, "key", `the counter has no output ${number}; ${known}`);
    }
    outputs[output] = loads.flatMap((load, index) => {
      // a single house stands without a list around it, or is a mapping itself
      const place = Array.isArray(reading.at(at)) ? [...at, index] : at;
      const spelledOut = typeof reading.at(place) === "object";
      const house = houses.findIndex(({ id }) => id === load.house);
      if (house < 0) {
        reading.report(
          spelledOut ? [...place, "house"] : place,
          "value",
          `no house is called "${load.house}"; ${knownHouses(load.house, houses)}`,
        );
      }
      const lamp = load.lamp === undefined ? 0 : lamps.findIndex(({ id }) => id === load.lamp);
      if (lamp < 0) {
        const known = lamps.map(({ id }) => id);
        const message = `no kind of lamp is called "${load.lamp}"; ${knownWords(load.lamp!, known, "lamps")}`;
        reading.report([...place, "lamp"], "value", message);
      }
      return house < 0 || lamp < 0 ? [] : [{ house, lamps: load.lamps, lamp }];
    });
  }
  return outputs;
}

/** Boards that are clocked by each other's carry in a circle have no clock at all. */
function refuseCircles(reading: Reading, ids: readonly string[], file: Mapping): void {
  const source = (id: string): string | undefined => {
    const timer = mapping(mapping(file[id])["timer"]);
    return timer["kind"] === "carry" && typeof timer["from"] === "string" ? timer["from"] : undefined;
  };
  // in which walk each board was met, so that none is walked from twice
  const walks = new Map<string, string>();
  for (const id of ids) {
    let at: string | undefined = id;
    for (; at !== undefined && !walks.has(at); at = source(at)) walks.set(at, id);
    if (at === undefined || walks.get(at) !== id) continue;
    // told once for a circle; `at` is the first of its boards in the file, or the one a chain ran into
    const chain = [at];
    for (let next = source(at); next !== undefined && next !== at; next = source(next)) chain.push(next);
    const first = ids.find((other) => chain.includes(other)) ?? at;
    const round = [...chain.slice(chain.indexOf(first)), ...chain.slice(0, chain.indexOf(first)), first].join(" from ");
    reading.report(["boards", first, "timer", "from"], "value", `a circle of carries: ${round}; one board of it needs a timer of its own`);
  }
}
