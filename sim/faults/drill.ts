import { stream, below } from "../random/streams.js";
import { askUnit } from "../units/askunit.js";
import { duration } from "../units/quantities.js";
import { spokenDuration } from "../units/text.js";
import type { FaultGroup, FaultTable } from "./groups.js";
import { KIND_WORDS } from "./kinds.js";
import type { Light } from "./light.js";
import { listing, meantBy, unclear } from "./names.js";
import { houseName } from "../model/housename.js";
import { housesOf, tellingHouses } from "./observations.js";
import { pace } from "./pace.js";
import { type Micros, toMicros, toSeconds } from "../units/time.js";
import { displayOffSeconds } from "../timers/switchoff.js";

/** Changes of a house that an answer spells out. */
const TOLD_CHANGES = 20;

const HOW = [
  "  watch HOUSE TIME   what the house does for so long from switch-on",
  "  board BOARD TIME   whether its houses change",
  "  list               the faults that it may be, with their numbers",
  "  guess NUMBER       the fault is this one",
  "  give up            tells the fault",
];

/** An exercise in finding a fault: one is hidden, and questions about what can be seen are answered. */
export class Drill {
  private readonly groups: readonly FaultGroup[];
  private readonly hidden: { readonly group: FaultGroup; readonly light: Light } | undefined;
  private looks = 0;
  private ended: boolean;

  /** Hides one of the faults that show at all, each equally likely; the same seed hides the same fault. */
  constructor(
    private readonly table: FaultTable,
    seed: string,
  ) {
    this.groups = table.groups.filter(({ lights }) => !lights.some((light) => light.equals(table.healthy)));
    const faults = this.groups.flatMap((group) => group.faults.map(() => group));
    const dice = stream(seed, 0, "drill", "hunt");
    const group = faults[below(dice, faults.length)];
    this.hidden = group === undefined ? undefined : { group, light: group.lights[below(dice, group.lights.length)]! };
    this.ended = this.hidden === undefined;
  }

  /** Whether the fault is found or told. */
  isOver(): boolean {
    return this.ended;
  }

  /** What to say first. */
  intro(): string {
    if (this.hidden === undefined) return "No fault of this display can be seen, so there is nothing to find.";
    const { scenario } = this.table;
    const names = (board: number): string => housesOf(scenario, board).all.map((house) => scenario.houses[house]!.id).join(", ");
    const lights = scenario.boards.map(({ id }, board) => `  ${id}: ${names(board)}`);
    return [
      `One of ${this.groups.length} faults is hidden in the display, which was off for ` +
        `${spokenDuration(displayOffSeconds(scenario))} before it was switched on. Its boards, with the houses that each lights:`,
      ...lights,
      "Type one of these:",
      ...this.how(),
    ].join("\n");
  }

  private how(): string[] {
    return [...HOW, `Such as: watch ${this.table.scenario.houses[0]!.id} 12 min`];
  }

  /** The answer to one line. */
  answer(line: string): string {
    const asked = line.slice(0, 200).replaceAll('"', "").trim().replace(/^quit$/, "give up").split(/\s+/);
    const [word = "", name = ""] = asked;
    if (word === "") return "";
    if (word === "list" && asked.length === 1) return this.list();
    if (/^(help|\?)$/.test(word) && asked.length === 1) return ["Type one of these:", ...this.how()].join("\n");
    if (word === "give" && name === "up" && asked.length === 2) return this.giveUp();
    if (word === "guess" && asked.length === 2) return this.guess(name);
    // a house may be named by several words, and a time has a number first: "watch Three Gulls Inn 12 min"
    const [, of = "", time] = /^\S+\s+(.*?)(?:\s+(-?\d\S*(?:\s.*)?))?$/.exec(asked.join(" ")) ?? [];
    if ((word === "watch" || word === "board") && of !== "") return this.look(word, of, time ?? "");
    return ["not understood; type one of these:", ...this.how()].join("\n");
  }

  /** Ends the drill and tells the fault. */
  giveUp(): string {
    this.ended = true;
    return this.hidden === undefined ? "" : `The fault was number ${this.groups.indexOf(this.hidden.group) + 1}: ` +
      told(this.hidden.group);
  }

  private list(): string {
    const name = (group: FaultGroup): string =>
      group.faults.map(({ kind, board, where }) => `${KIND_WORDS[kind]}, ${board === null ? "" : `board ${board}, `}${where}`).join("; or ");
    return this.groups.map((group, i) => `${String(i + 1).padStart(4)}  ${name(group)}`).join("\n");
  }

  private guess(number: string): string {
    const guessed = /^\d{1,9}$/.test(number) ? this.groups[Number(number) - 1] : undefined;
    if (guessed === undefined) return `expected a number from 1 to ${this.groups.length}`;
    // a fault that can show in several ways may look like another one this time
    if (!guessed.lights.some((light) => light.equals(this.hidden!.light))) return `No, it is not number ${number}.`;
    this.ended = true;
    return `Right, after ${this.looks} ${this.looks === 1 ? "look" : "looks"}: ${told(this.hidden!.group)}`;
  }

  private look(word: "watch" | "board", name: string, time: string): string {
    const { scenario, healthy } = this.table;
    const among: readonly { readonly id: string; readonly name?: string }[] = word === "watch" ? scenario.houses : scenario.boards;
    const meant = meantBy(name, among);
    if (meant.length !== 1) return unclear(name, word === "watch" ? "house" : "board", among, meant);
    const unit = askUnit(time);
    if (unit !== null) return `${time} ${unit}`;
    const until = toMicros(duration.parse(time) ?? NaN);
    if (!(until > 0 && until <= healthy.length)) {
      return `expected a time after switch-on, such as "12 min", at most ${spokenDuration(toSeconds(healthy.length))}`;
    }
    this.looks++;
    return word === "watch" ? this.watched(meant[0]!, until) : this.boardSeen(meant[0]!, until);
  }

  private watched(house: number, until: Micros): string {
    const turns = this.hidden!.light.turnsOf(house).filter((at) => at < until);
    const start = turns[0] === 0 ? "lit" : "dark";
    const later = turns.flatMap((at, i) => (at === 0 ? [] : [`${i % 2 === 0 ? "lit" : "dark"} from ${spokenDuration(toSeconds(at))}`]));
    const name = houseName(this.table.scenario, house);
    if (later.length === 0) return `${name}: ${start} all the time`;
    const more = later.length > TOLD_CHANGES ? `; and ${later.length - TOLD_CHANGES} more changes` : "";
    return `${name}: ${[start, ...later.slice(0, TOLD_CHANGES)].join(", ")}${more}`;
  }

  private boardSeen(board: number, until: Micros): string {
    const { scenario } = this.table;
    const { light } = this.hidden!;
    const telling = tellingHouses(scenario, board);
    const every = pace(light, telling, until);
    const parts = [
      ["changing", every === null ? "change" : `change, about every ${spokenDuration(toSeconds(every))}`],
      ["lit", "lit all the time"],
      ["dark", "dark all the time"],
    ] as const;
    const seen = parts.flatMap(([stay, what]) => {
      const names = telling.filter((house) => light.stays(house, until) === stay).map((house) => houseName(scenario, house));
      return names.length === 0 ? [] : [`${what}: ${listing(names)}`];
    });
    return `board ${scenario.boards[board]!.id}: ${seen.length === 0 ? "it lights no house" : seen.join("; ")}`;
  }
}

function told({ faults }: FaultGroup): string {
  return faults.map(({ text }) => text).join(" Or, which looks the same: ");
}

