import type { SceneRecord } from "../../sim/engine/record.js";
import { formatClock } from "../../sim/units/clock.js";
import { spokenDuration } from "../../sim/units/text.js";
import { DAY, toSeconds } from "../../sim/units/time.js";
import type { Io } from "../output/io.js";
import { visible } from "../output/visible.js";
import type { Drawing } from "./layout.js";
import { columnsOf } from "./columns.js";

/** Houses that are drawn; more rows than this scroll away. */
const ROWS = 24;
/** Columns for the name of a house, and for the time. */
const NAME = 14;
const MOST = 96;
/** From dark to lit all the time that a character stands for. */
const SHADES = { plain: " .:+#", blocks: " ░▒▓█" } as const;
const YELLOW = ["\u001b[33m", "\u001b[39m"] as const;

/** How a terminal is drawn on: with block characters where it takes UTF-8, and in colour unless NO_COLOR is set. */
function styleOf({ stdout, env = {} }: Io): { readonly shades: string; readonly colour: boolean } {
  const locale = [env["LC_ALL"], env["LC_CTYPE"], env["LANG"]].find((one) => one !== undefined && one !== "") ?? "";
  const colour = stdout.isTTY === true && (env["NO_COLOR"] ?? "") === "" && env["TERM"] !== "dumb";
  return { shades: /utf-?8/i.test(locale) ? SHADES.blocks : SHADES.plain, colour };
}

/** The first opening as a row a house, each character the share of its time for which the house is lit. */
export function firstOpening(record: SceneRecord, io: Io): Drawing {
  return { draw: (width) => drawn(record, width, styleOf(io)) };
}

function drawn(record: SceneRecord, width: number, { shades, colour }: ReturnType<typeof styleOf>): string {
  const { from, until } = record.openings[0]!;
  const houses = record.scenario.houses.slice(0, ROWS);
  const columns = Math.max(1, Math.min(MOST, width - NAME - 2));
  const slot = (until - from) / columns;
  const rows = houses.map(({ id }, house) => {
    const text = sharesOf(record, house, columns)
      .map((share) => shades[share === 0 ? 0 : Math.min(4, 1 + Math.floor(share * 3.999))]!)
      .join("");
    return `${named(id)}  ${colour ? `${YELLOW[0]}${text}${YELLOW[1]}` : text}`;
  });
  const [start, end] = [formatClock(from % DAY), formatClock(until % DAY === 0 ? DAY : until % DAY)];
  const axis = `${" ".repeat(NAME + 2)}${start}${end.padStart(Math.max(1, columns - start.length))}`;
  const more = record.scenario.houses.length - houses.length;
  return [
    "The first opening",
    ...rows,
    axis,
    ...(more === 0 ? [] : [`and ${more} more`]),
    `${shades[4]!} lit, ${shades[1]!} for a part of ${spokenDuration(toSeconds(slot))}`,
  ].join("\n");
}

/** For each of so many equal parts of the first opening, the share of it for which a house is lit. */
function sharesOf({ openings, scenes, spellStart, spellScene }: SceneRecord, house: number, columns: number): number[] {
  const { from, until, end } = openings[0]!;
  const slot = (until - from) / columns;
  const shares = new Array<number>(columns).fill(0);
  for (let i = 0; i < end; i++) {
    if (!scenes.isLit(spellScene[i]!, house)) continue;
    const [on, off] = [spellStart[i]! - from, (i + 1 < end ? spellStart[i + 1]! : until) - from];
    for (let s = Math.floor(on / slot); s < columns && s * slot < off; s++) {
      shares[s]! += (Math.min(off, (s + 1) * slot) - Math.max(on, s * slot)) / slot;
    }
  }
  return shares;
}

/** A name in a column of its own, cut where it is longer. */
function named(id: string): string {
  const name = visible(id);
  const text = columnsOf(name) > NAME ? `${name.slice(0, NAME - 1)}~` : name;
  return text + " ".repeat(Math.max(0, NAME - columnsOf(text)));
}
