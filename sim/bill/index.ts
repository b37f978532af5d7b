import type { Scenario } from "../model/scenario.js";
import { netlist, WAY_IN_WORDS, type Goods, type Netlist } from "../netlist/index.js";

/** One line of the bill: equal pieces of all boards. */
export interface BillItem {
  readonly what: Goods["what"];
  /** As printed on the part. */
  readonly value: string;
  /** Such as "0.25 W"; null where there is none. */
  readonly rating: string | null;
  /** Pieces needed; metres of wire. */
  readonly count: number;
  /** Pieces to buy besides. */
  readonly spares: number;
  /** By board: how many of them. */
  readonly boards: Readonly<Record<string, number>>;
  /** By board: what the wiring card calls them. */
  readonly references: Readonly<Record<string, readonly string[]>>;
}

export interface Bill {
  readonly items: readonly BillItem[];
  /** What the items leave out, and how lengths were reckoned. */
  readonly notes: readonly string[];
}

/** The order in which a bill is read: what is soldered first, then what goes to the houses. */
const ORDER: readonly Goods["what"][] = ["chip", "socket", "resistor", "trimmer", "capacitor", "diode", "fuse", "lamp", "connector", "wire"];

/**
 * What to buy for a display, merged by what, value and rating: the parts of the boards' netlists, by the very names of the
 * wiring cards.
 *
 * @param spares the share to buy besides, rounded up to whole pieces for each line
 */
export function bill(scenario: Scenario, spares: number): Bill {
  return { items: merged(scenario, scenario.boards.map((_, b) => netlist(scenario, b)), spares), notes: notesOn(scenario) };
}

/** What to buy for board `b` alone. */
export function boardBill(scenario: Scenario, b: number, net: Netlist = netlist(scenario, b)): BillItem[] {
  return merged({ boards: [scenario.boards[b]!] }, [net], 0);
}

function merged({ boards }: Pick<Scenario, "boards">, nets: readonly Netlist[], spares: number): BillItem[] {
  interface Line {
    readonly goods: Goods;
    readonly boards: Map<string, number>;
    readonly references: Map<string, string[]>;
  }
  const lines = new Map<string, Line>();
  nets.forEach(({ devices }, i) => {
    const { id } = boards[i]!;
    for (const { name, goods } of devices) {
      for (const each of goods) {
        const key = JSON.stringify([each.what, each.value, each.rating]);
        const line = lines.get(key) ?? { goods: each, boards: new Map<string, number>(), references: new Map<string, string[]>() };
        lines.set(key, line);
        line.boards.set(id, (line.boards.get(id) ?? 0) + each.count);
        line.references.set(id, [...(line.references.get(id) ?? []), name]);
      }
    }
  });
  return [...lines.values()]
    .map(({ goods, boards: counts, references }): BillItem => {
      const round = (count: number): number => (goods.what === "wire" ? Math.ceil(count * 10 - 1e-9) / 10 : count);
      const count = round([...counts.values()].reduce((a, b) => a + b, 0));
      return {
        what: goods.what,
        value: goods.value,
        rating: goods.rating,
        count,
        spares: Math.ceil(count * spares - 1e-9),
        boards: Object.fromEntries([...counts].map(([id, each]) => [id, round(each)])),
        references: Object.fromEntries(references),
      };
    })
    .sort((a, b) => ORDER.indexOf(a.what) - ORDER.indexOf(b.what) || compare(a.value, b.value) || compare(a.rating ?? "", b.rating ?? ""));
}

/** By the numbers in a text where it begins with one, else by its letters; the same on every machine. */
function compare(a: string, b: string): number {
  return a === b ? 0 : a < b ? -1 : 1;
}

function notesOn(scenario: Scenario): string[] {
  const { boards, houses, scale, supply } = scenario;
  const placed = scale !== null && boards.some(({ at }) => at !== null) && houses.some(({ at }) => at !== null);
  const without = boards.filter(({ at }) => at === null).map(({ id }) => id);
  return [
    placed ? WAY_IN_WORDS : "Wire to the houses is left out: its length needs scale, the place (at) of each board, and that of each house.",
    ...(placed && without.length > 0 ? [`No wire is reckoned for boards without a place: ${without.join(", ")}.`] : []),
    "Not on the bill: the supply itself, wire on the boards and from the supply to them, and the boards to solder on.",
    ...(supply.regulator === null ? [] : ["The regulator is counted with the first board; buy the capacitors and the heat sink that " +
      "its data sheet asks for."]),
    ...(boards.some(({ timer }) => timer.kind === "measured") ? ["Timers that are built and measured already are left out."] : []),
    "Lamps that boards share are counted with the first board that lights them.",
  ];
}
