import type * as z from "zod/mini";
import { FIXED_REGULATOR } from "../parts/regulators.js";
import { thermalResistance, volts } from "../units/quantities.js";
import type { Assumption, House, Scenario, Supply } from "../model/scenario.js";
import { resolveBoards } from "./boards.js";
import { timeOfDay } from "./fields.js";
import { findings } from "./findings.js";
import { refuseForward, resolveLamps } from "./lamps.js";
import { knownWords, type Problem } from "./problems.js";
import { promisesSchema, resolvePromises } from "./promises.js";
import { mapping, Reading } from "./reading.js";
import {
  arrangeSchema,
  housesSchema,
  openingSchema,
  pictureSchema,
  roomSchema,
  scaleSchema,
  seedSchema,
  spreadSchema,
  supplySchema,
  titleSchema,
  visitorsSchema,
} from "./schema.js";
import type { Source } from "./source.js";
import { resolveWishes } from "./wishes.js";
import { findStalls, findStallsOfDay, findTooShort, unreachable } from "./stalls.js";
import { DAY } from "../units/time.js";

/**
 * Connects what the file names: houses, boards, lamps, outputs. Adds what does not fit to `problems` and returns the
 * scenario when there were none. Parts of the file whose shape the schema refused are passed over here, so that one
 * reading reports both kinds of problem.
 */
export function resolve(source: Source, problems: Problem[], assumptions: Assumption[]): Scenario | undefined {
  return new Resolver(source, problems, assumptions).scenario();
}

class Resolver extends Reading {
  scenario(): Scenario | undefined {
    const title = this.piece(titleSchema, this.data["title"]);
    const seed = this.piece(seedSchema, this.data["seed"]);
    const picture = this.picture();
    const scale = this.data["scale"] === undefined ? null : (this.piece(scaleSchema, this.data["scale"]) ?? null);
    const opening = this.opening();
    const room = this.section(roomSchema, "room", "25 °C all day");
    const visitors = this.section(visitorsSchema, "visitors", "stay 5 min, returns after 10 min, 30 min, 1 h, 24 h");
    const supply = this.section(supplySchema, "supply", "12 V, regulated");
    const lamps = resolveLamps(this);
    const houses = this.houses();
    const boards = resolveBoards(this, houses, lamps);
    const promises = this.piece(promisesSchema, this.data["promises"] ?? []);
    const promised = resolvePromises(promises ?? [], houses, (path, message) =>
      this.report(["promises", ...path], "value", message),
    );
    const wished = this.data["arrange"] === undefined ? undefined : this.piece(arrangeSchema, this.data["arrange"]);
    const wishes = resolveWishes(wished, houses, boards, (path, message) => this.report(path, "value", message));
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
      picture,
      scale,
      opening,
      room,
      visitors,
      supply: this.supply(supply),
      lamps,
      houses,
      boards,
      promises: promised,
      wishes,
      toleranceShape: spread.shape,
      assumptions: this.assumptions,
      warnings: this.warnings,
    };
    this.assumeWired(scenario);
    this.warnDark(scenario);
    this.warnOutside(scenario);
    refuseForward(this, scenario);
    for (const { board, message } of [...findStalls(scenario), ...findTooShort(scenario), ...unreachable(scenario)]) {
      this.report(["boards", board, "timer"], "key", message);
    }
    for (const { board, message } of findStallsOfDay(scenario)) this.warn(["boards", board, "timer"], message);
    return scenario;
  }

  /** The name of the picture. Where somebody looked at its file, what is wrong with that is a problem of the scenario. */
  private picture(): string | null {
    if (this.data["picture"] === undefined) return null;
    const { picture } = this.source;
    if (typeof picture === "string") this.report(["picture"], "value", picture);
    return this.piece(pictureSchema, this.data["picture"]) ?? null;
  }

  /** A house beyond the edge of the picture is seen nowhere. */
  private warnOutside({ houses }: Scenario): void {
    const { picture } = this.source;
    if (picture === null || typeof picture === "string") return;
    const { width, height } = picture;
    for (const { id, at } of houses) {
      if (at === null || (at[0] >= 0 && at[0] <= width && at[1] >= 0 && at[1] <= height)) continue;
      this.warn(["houses", id, "at"], `[${at.join(", ")}] lies outside of the picture, which is ${width} pixels wide and ${height} high`);
    }
  }

  /** A house that no output ever lights is planned, or forgotten. */
  private warnDark(scenario: Scenario): void {
    const dark = findings(scenario).neverLit;
    for (const house of dark) {
      const gone = this.source.takesNothingAway(["houses", house]);
      const meant = gone === null ? "" : `; the base has no "${house}" to take away: ${knownWords(house, gone, "houses")}`;
      this.warn(["houses", house], `no output lights this house, and it stays dark${meant}`);
    }
  }

  private opening(): Scenario["opening"] | undefined {
    if (this.data["opening"] === undefined) {
      this.assume("opening", "one day of 24 h, never switched off", "nothing given");
      return { days: [0, 1, 2, 3, 4, 5, 6], from: 0, until: DAY, overnight: true, run: 1 };
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
  private section<Schema extends z.ZodMiniType>(schema: Schema, key: string, assumed: string): z.output<Schema> | undefined {
    if (this.data[key] === undefined) this.assume(key, assumed, "nothing given");
    return this.piece(schema, this.data[key] ?? {});
  }

  /** Behind a regulator, the boards run on what it lets through. */
  private supply(file: z.output<typeof supplySchema>): Supply {
    const { volts: input, limit = null, regulated, glitches, regulator } = file;
    if (regulator === undefined) return { volts: input, limit, regulated, glitches, regulator: null };
    const { dropout, thermal } = FIXED_REGULATOR;
    if (regulator.dropout === undefined) this.assume("supply.regulator.dropout", volts.format(dropout.value), dropout.source);
    if (regulator.thermal === undefined) {
      this.assume("supply.regulator.thermal", thermalResistance.format(thermal.value), thermal.source);
    }
    const filled = { input, dropout: regulator.dropout ?? dropout.value, thermal: regulator.thermal ?? thermal.value };
    return { volts: regulator.out, limit, regulated, glitches, regulator: filled };
  }

  /** A house on several outputs has one set of lamps, unless the file says otherwise: worth knowing, since both are built. */
  private assumeWired({ houses, boards }: Scenario): void {
    const file = mapping(this.data["houses"]);
    houses.forEach(({ id }, house) => {
      const outputs = boards.flatMap((board) => board.outputs).filter((loads) => loads.some((load) => load.house === house));
      if (outputs.length < 2 || mapping(file[id])["wired"] !== undefined) return;
      this.assume(`houses.${id}.wired`, "together", `nothing given: the ${outputs.length} outputs that name the house switch the ` +
        "same lamps");
    });
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
      wired: house?.wired ?? "together",
    }));
  }
}
