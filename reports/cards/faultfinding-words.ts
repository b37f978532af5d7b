import type { FaultTable } from "../../sim/faults/index.js";
import { isUnsteady } from "../../sim/faults/unsteady.js";
import type { Board, Scenario } from "../../sim/model/scenario.js";
import { DRIVERS } from "../../sim/parts/drivers.js";
import { displayOffSeconds } from "../../sim/timers/switchoff.js";
import { spokenDuration } from "../../sim/units/text.js";
import { maskedHouses } from "./faultfinding-rows.js";

/** What a fault-finding card says around its table. */

export const HEADINGS = { see: "What you see", watch: "Watch", look: "Look for, in this order", advice: "Try" };

export const ADVICE_TITLE = "What to try, to tell them apart: switch off before each touch";

/** How the card numbers driver channels, if they have numbers of their own. */
function driverWords({ driver }: Board): string {
  return DRIVERS[driver.kind].channelsInPackage === 1 ? "" : " Driver 1.2 means package 1, channel 2.";
}

/** Why the wait is long, where it is. */
function waitsFor(scenario: Scenario): string {
  return displayOffSeconds(scenario) > 10 ? " (no less: until the timers' capacitors are empty the first steps are too short)" : "";
}

/** How to begin, and in which order to look. */
export function startingWords(table: FaultTable, b: number): { lead: string; text: string }[] {
  const board = table.scenario.boards[b]!;
  const masked = maskedHouses(table, b);
  return [
    {
      lead: "Begin:",
      text:
        `Switch off for ${spokenDuration(displayOffSeconds(table.scenario))}${waitsFor(table.scenario)}, switch on, and start a watch ` +
        `at the same moment. Find the row that says what you see. ${timesMean(table, b)}`,
    },
    {
      lead: "Look:",
      text:
        "Plain things first. Everything dark: the supply. One board dark: its plug and its two supply wires. One house dark: its " +
        "wire, then its lamp. " +
        "All houses of one output: the wire to the driver, then the driver. Chips come last." + driverWords(board),
    },
    ...(masked.length === 0 ? [] : [{ lead: "Hidden:", text: hiddenWords(masked) }]),
  ];
}

function timesMean(table: FaultTable, b: number): string {
  if (!table.timeless.has(b)) return "Times are minutes:seconds on that watch; boards may be a few seconds early or late.";
  const quick = "This board steps too quickly to be followed with a watch";
  const why = isUnsteady(table.scenario, b) ? "This board goes another way each day" : quick;
  return `${why}, so that the card tells no times; watch for as long as the row says.`;
}

/** Houses named before the rest of them is counted. */
const NAMED = 6;

function hiddenWords(masked: readonly string[]): string {
  const more = masked.length > NAMED ? ` So are ${masked.length - NAMED} more houses.` : "";
  return (
    `${masked.slice(0, NAMED).join(" ")}${more} ` +
    "That light can hide a fault of this board: look when the other board leaves the house dark."
  );
}
