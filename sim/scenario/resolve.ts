import type { z } from "zod";
import { sequence } from "../counters/sequence.js";
import type { Assumption, Board, Counter, House, Lamp, Load, Scenario, Timer } from "./model.js";
import { resolveCounter } from "./counters.js";
import { timeOfDay } from "./fields.js";
import { knownWords, type Problem } from "./problems.js";
import type { Assume } from "./parts.js";
import { resolvePromises } from "./promises.js";
import {
  counterSchema,
  driverSchema,
  housesSchema,
  lampsSchema,
  openingSchema,
  outputsSchema,
  promisesSchema,
  roomSchema,
  seedSchema,
  spreadSchema,
  supplySchema,
  timerSchema,
  titleSchema,
  visitorsSchema,
} from "./schema.js";
import type { Source } from "./source.js";
import { findStalls, unreachable } from "./stalls.js";
import { resolveTimer } from "./timers.js";

type Path = readonly (string | number)[];
type Mapping = Readonly<Record<string, unknown>>;

/**
 * Connects what the file names: houses, boards, lamps, outputs. Adds what does not fit to `problems` and returns the
 * scenario when there were none. Parts of the file whose shape the schema refused are passed over here, so that one
 * reading reports both kinds of problem.
 */
export function resolve(source: Source, problems: Problem[], assumptions: Assumption[]): Scenario | undefined {
  return new Resolver(source, problems, assumptions).scenario();
}

class Resolver {
  private readonly data: Mapping;
  private readonly assume: Assume;

  constructor(
    private readonly source: Source,
    private readonly problems: Problem[],
    private readonly assumptions: Assumption[],
  ) {
    this.data = mapping(source.data);
    this.assume = (path, value, from) => assumptions.push({ path, value, source: from });
  }

  scenario(): Scenario | undefined {
    const title = this.piece(titleSchema, this.data["title"]);
    const seed = this.piece(seedSchema, this.data["seed"]);
    const opening = this.opening();
    const room = this.section(roomSchema, "room", "25 °C all day");
    const visitors = this.section(visitorsSchema, "visitors", "stay 5 min, returns after 10 min, 30 min, 1 h, 24 h");
    const supply = this.section(supplySchema, "supply", "12 V, regulated");
    const lamps = this.lamps();
    const houses = this.houses();
    const boards = this.boards(houses, lamps);
    const promises = this.piece(promisesSchema, this.data["promises"] ?? []);
    const promised = resolvePromises(promises ?? [], houses, (path, message) =>
      this.report(["promises", ...path], "value", message),
    );
    const spread = this.piece(spreadSchema, this.data["spread"] ?? {});
    if (
      this.problems.length > 0 ||
      title === undefined ||
      seed === undefined ||
      opening === undefined ||
      room === undefined ||
      visitors === undefined ||
      supply === undefined ||
      spread === undefined
    ) {
      return undefined;
    }
    const scenario: Scenario = {
      title,
      seed,
      file: this.source.file,
      opening,
      room,
      visitors,
      supply: { ...supply, limit: supply.limit ?? null },
      lamps,
      houses,
      boards,
      promises: promised,
      toleranceShape: spread.shape,
      assumptions: this.assumptions,
    };
    for (const { board, message } of [...findStalls(scenario), ...unreachable(scenario)]) {
      this.report(["boards", board, "timer"], "key", message);
    }
    return scenario;
  }

  private opening(): Scenario["opening"] | undefined {
    if (this.data["opening"] === undefined) {
      this.assume("opening", "one day of 24 h, never switched off", "nothing given");
      return { days: [0, 1, 2, 3, 4, 5, 6], from: 0, until: 86_400_000_000, overnight: true, run: 1 };
    }
    const file = mapping(this.data["opening"]);
    const from = this.piece(timeOfDay, file["from"] ?? "00:00");
    const until = this.piece(timeOfDay, file["until"] ?? "24:00");
    if (from !== undefined && until !== undefined && until <= from) {
      const found = this.source.found(["opening", "until"]);
      this.report(["opening", "until"], "value", `found ${found}; expected a time later than "from"`);
    }
    const opening = this.piece(openingSchema, file);
    return opening && { ...opening, overnight: opening.overnight === "on" };
  }

  /** A section whose keys all have defaults; noted when the file leaves it out. */
  private section<Schema extends z.ZodType>(schema: Schema, key: string, assumed: string): z.output<Schema> | undefined {
    if (this.data[key] === undefined) this.assume(key, assumed, "nothing given");
    return this.piece(schema, this.data[key] ?? {});
  }

  private lamps(): Lamp[] {
    const entries = Object.entries(this.piece(lampsSchema, this.data["lamps"] ?? {}) ?? {});
    if (entries.length > 0) {
      return entries.map(([id, { amps, volts, watts }]) => ({
        id,
        amps: amps ?? watts! / volts!,
        volts: volts ?? null,
      }));
    }
    if (this.data["lamps"] === undefined) this.assume("lamps", "one kind, 20 mA", "nothing given; common practice, no source");
    return [{ id: "lamp", amps: 0.02, volts: null }];
  }

  private houses(): House[] {
    const file = this.piece(housesSchema, this.data["houses"]);
    if (file !== undefined && Object.keys(file).length === 0) {
      this.report(["houses"], "value", "there are no houses; expected at least one");
    }
    // Where a single house is malformed, its name is still good for references
    const entries = file === undefined ? Object.keys(mapping(this.data["houses"])).map((id) => [id, null] as const) : Object.entries(file);
    return entries.map(([id, house]) => ({
      id,
      name: house?.name ?? id,
      zone: house?.zone ?? null,
      at: house?.at === undefined ? null : ([...house.at] as [number, number]),
    }));
  }

  private boards(houses: readonly House[], lamps: readonly Lamp[]): Board[] {
    const file = mapping(this.data["boards"]);
    const ids = Object.keys(file);
    if (ids.length === 0 && this.data["boards"] !== undefined) {
      this.report(["boards"], "value", "there are no boards; expected at least one");
    }
    const boards = ids.flatMap((id) => this.board(id, mapping(file[id]), ids, houses, lamps) ?? []);
    this.refuseCircles(ids, file);
    return boards;
  }

  private board(
    id: string,
    file: Mapping,
    ids: readonly string[],
    houses: readonly House[],
    lamps: readonly Lamp[],
  ): Board | undefined {
    const path: Path = ["boards", id];
    const timerFile = this.piece(timerSchema, file["timer"]);
    const counterFile = this.piece(counterSchema, file["counter"]);
    const outputsFile = this.piece(outputsSchema, file["outputs"]);
    const driverFile = this.piece(driverSchema, file["driver"] ?? {});
    let timer: Timer | undefined;
    if (timerFile !== undefined) {
      const report = (keys: Path, message: string): void => this.report([...path, "timer", ...keys], "value", message);
      timer = resolveTimer(timerFile, `boards.${id}.timer`, ids, report, this.assume);
    }
    let counter: Counter | undefined;
    if (counterFile !== undefined) {
      counter = resolveCounter(counterFile, (keys, message) =>
        this.report([...path, "counter", ...keys], "value", message),
      );
    }
    if (timer?.kind === "carry" && counter?.kind === "table" && counter.hold.some((factor) => factor !== 1)) {
      this.report([...path, "counter", "hold"], "value", "a board clocked by a carry has no step time to multiply; take hold out");
    }
    let outputs: Load[][] | undefined;
    if (outputsFile !== undefined) outputs = this.outputs(path, outputsFile, counter, houses, lamps);
    if (timer === undefined || counter === undefined || outputs === undefined || driverFile === undefined) return undefined;
    if (file["driver"] === undefined) this.assume(`boards.${id}.driver`, driverFile.kind, "nothing given");
    return { id, timer, counter, driver: driverFile, outputs };
  }

  private outputs(
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
        this.report(at, "key", `the counter has no output ${number}; its outputs are 0 to ${has - 1}`);
      }
      outputs[output] = loads.flatMap((load, index) => {
        // a single house stands without a list around it, or is a mapping itself
        const place = Array.isArray(this.dataAt(at)) ? [...at, index] : at;
        const spelledOut = typeof this.dataAt(place) === "object";
        const house = houses.findIndex(({ id }) => id === load.house);
        if (house < 0) {
          const known = houses.map(({ id }) => id);
          this.report(
            spelledOut ? [...place, "house"] : place,
            "value",
            `no house is called "${load.house}"; ${knownWords(load.house, known, "houses")}`,
          );
        }
        const lamp = load.lamp === undefined ? 0 : lamps.findIndex(({ id }) => id === load.lamp);
        if (lamp < 0) {
          const known = lamps.map(({ id }) => id);
          const message = `no kind of lamp is called "${load.lamp}"; ${knownWords(load.lamp!, known, "lamps")}`;
          this.report([...place, "lamp"], "value", message);
        }
        return house < 0 || lamp < 0 ? [] : [{ house, lamps: load.lamps, lamp }];
      });
    }
    return outputs;
  }

  /** Boards that are clocked by each other's carry in a circle have no clock at all. */
  private refuseCircles(ids: readonly string[], file: Mapping): void {
    const source = (id: string): string | undefined => {
      const timer = mapping(mapping(file[id])["timer"]);
      return timer["kind"] === "carry" && typeof timer["from"] === "string" ? timer["from"] : undefined;
    };
    for (const id of ids) {
      const chain = [id];
      for (let next = source(id); next !== undefined && !chain.includes(next); next = source(next)) chain.push(next);
      // told once for a circle: at its first board in the file
      const circle = source(chain.at(-1)!) === id && chain.every((other) => ids.indexOf(other) >= ids.indexOf(id));
      if (!circle) continue;
      const round = [...chain, id].join(" from ");
      this.report(["boards", id, "timer", "from"], "value", `a circle of carries: ${round}; one board of it needs a timer of its own`);
    }
  }

  private piece<Schema extends z.ZodType>(schema: Schema, data: unknown): z.output<Schema> | undefined {
    const parsed = schema.safeParse(data);
    return parsed.success ? parsed.data : undefined;
  }

  private dataAt(path: Path): unknown {
    return path.reduce<unknown>((value, key) => (value as Record<string | number, unknown> | undefined)?.[key], this.data);
  }

  private report(path: Path, at: Problem["at"], message: string): void {
    this.problems.push(this.source.problem(path, at, message));
  }
}

function mapping(value: unknown): Mapping {
  return typeof value === "object" && value !== null && !Array.isArray(value) ? (value as Mapping) : {};
}
