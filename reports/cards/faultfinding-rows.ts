import { houseName, type Fault, type FaultTable } from "../../sim/faults/index.js";
import type { WatchTime } from "../../sim/faults/telltime.js";
import { lightedBy } from "../../sim/faults/unsteady.js";
import { capitalised } from "../words.js";
import { adviceFor, lookedFor } from "./faultfinding-advice.js";
import { symptomOf, type SymptomKind } from "./faultfinding-symptoms.js";
import { MINUTE } from "../../sim/units/time.js";
import { listed } from "../../sim/units/text.js";

/** One row of a fault-finding card: faults of a board that look alike. */
export interface FaultRow {
  readonly number: number;
  readonly kind: SymptomKind;
  readonly see: string;
  readonly watch: string;
  /** Things to look for, the plainest first. */
  readonly look: string;
  /** Pieces of advice, by place in the list of all. */
  readonly advice: readonly number[];
}

/** In the order in which they stand on the card. */
export const SECTIONS: readonly { readonly kind: SymptomKind; readonly title: string }[] = [
  { kind: "board", title: "The whole board" },
  { kind: "dark", title: "Houses that are dark when they should be lit" },
  { kind: "lit", title: "Houses that are lit when they should be dark" },
  { kind: "unseen", title: "What cannot be seen" },
];

/** The rows for board b, section by section; faults of the whole display stand with the board's. */
export function faultRows(table: FaultTable, times: readonly WatchTime[], b: number): FaultRow[] {
  const { scenario } = table;
  const board = scenario.boards[b]!;
  const isOwn = (fault: Fault): boolean => fault.board === board.id || fault.board === null;
  const found = table.groups.flatMap((group, g) => {
    const own = group.faults.filter(isOwn);
    return own.length === 0 ? [] : [{ group, g, own, symptom: symptomOf(table, group, b) }];
  });
  // what concerns the whole display comes first, as the plainest thing to look at
  const wide = (faults: readonly Fault[]): boolean => faults.some((fault) => fault.board === null);
  const ordered = SECTIONS.flatMap(({ kind }) => found.filter(({ symptom }) => symptom.kind === kind).sort((x, y) => Number(wide(y.own)) - Number(wide(x.own))));
  const numbers = new Map(ordered.map(({ g }, i) => [g, i + 1]));
  return ordered.map(({ group, g, own, symptom }, i) => {
    const { until, alike, hidden } = times[g]!;
    const rows = hidden ? [] : alike.flatMap((other) => numbers.get(other) ?? []).sort((x, y) => x - y);
    const others = hidden ? [] : [...new Set(alike.filter((other) => !numbers.has(other)).flatMap((other) => table.groups[other]!.faults.map((fault) => fault.board ?? "")))];
    const boards = [...new Set([...others, ...group.faults.filter((fault) => !hidden && !isOwn(fault)).map((fault) => fault.board ?? "")])];
    const maybe = [
      ...(rows.length === 0 ? [] : [`at times like ${rowsText(rows)}: switch off and on again, and watch afresh`]),
      ...(boards.length === 0 ? [] : [`a fault of board ${listed(boards.slice(0, 4))} can look like this, too`]),
    ];
    return {
      number: i + 1,
      kind: symptom.kind,
      see: [symptom.text, ...maybe.map((text) => `(${text})`)].join(" "),
      watch: hidden ? "–" : `${Math.ceil(until / MINUTE)} min`,
      look: capitalised(lookedFor(scenario, board, own).join("; ")),
      advice: adviceFor(own, hidden),
    };
  });
}

/** "row 3", "rows 3 and 5". */
function rowsText(rows: readonly number[]): string {
  return `${rows.length === 1 ? "row" : "rows"} ${listed(rows.map(String))}`;
}

/** A sentence for each house of board b that other boards light too. */
export function maskedHouses({ scenario }: FaultTable, b: number): string[] {
  return scenario.houses.flatMap((_, house) => {
    const boards = lightedBy(scenario, house);
    if (boards.length < 2 || !boards.includes(b)) return [];
    const others = boards.filter((other) => other !== b).map((other) => scenario.boards[other]!.id);
    return [`${houseName(scenario, house)} is lit by board ${listed(others)} too.`];
  });
}
