import { describe, expect, test } from "vitest";
import { faultFindingCard } from "../../reports/cards/faultfinding.js";
import type { CardSheet } from "../../reports/cards/sheet.js";
import { document } from "../paper.js";
import { faultTable, type Fault, type FaultTable } from "../../sim/faults/index.js";
import { watchTimes } from "../../sim/faults/telltime.js";
import type { Board, Scenario } from "../../sim/model/scenario.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { randomSpec } from "../oracle/random.js";
import { toYaml } from "../oracle/spec.js";
import { demoTables as demos } from "./demotables.js";
import { thorough } from "../thorough.js";
import { sheetFaults } from "./sheets.js";

const drawn = new WeakMap<FaultTable, CardSheet[][]>();

/** The cards of all boards, drawn once. */
function cardsOf(table: FaultTable): CardSheet[][] {
  const card = faultFindingCard(table);
  const cards = drawn.get(table) ?? table.scenario.boards.map((_, b) => [...card({ document, scenario: table.scenario, digest: "0123abcd", dated: null }, b)]);
  drawn.set(table, cards);
  return cards;
}

/** The rows of a card as one reads them: the texts below each heading, from one number to the next. */
function rowsOf(sheets: readonly CardSheet[]): { see: string; watch: string; look: string; tries: string }[] {
  const rows: { see: string; watch: string; look: string; tries: string }[] = [];
  for (const { svg } of sheets) {
    const texts = [...svg.querySelectorAll("text")].map((text) => ({ x: Number(text.getAttribute("x")), bold: text.hasAttribute("font-weight"), text: text.textContent }));
    const columns = ["What you see", "Watch", "Look for, in this order", "Try"].map((heading) => texts.find(({ text }) => text === heading)?.x);
    for (const { x, bold, text } of texts) {
      if (x === 0 && bold && /^\d+$/.test(text)) rows.push({ see: "", watch: "", look: "", tries: "" });
      const key = (["see", "watch", "look", "tries"] as const)[columns.indexOf(x)];
      const row = rows.at(-1);
      if (key !== undefined && row !== undefined && !/^(What you see|Watch|Look for, in this order|Try)$/.test(text)) row[key] = `${row[key]} ${text}`.trim();
    }
  }
  return rows;
}

/** The words by which a fault is found among what to look for: any of these. */
function wordsFor({ houses, boards }: Scenario, board: Board, { kind, spot }: Fault): string[] {
  switch (spot.part) {
    case "house wire":
      return [`wire output ${spot.output} to ${houses[spot.house]!.name}`];
    case "lamp":
      // lamps that one board alone switches are one set, told without an output
      return boards.filter(({ outputs }) => outputs.flat().some(({ house }) => house === spot.house)).length === 1 && houses[spot.house]!.wired === "together"
        ? [`lamp of ${houses[spot.house]!.name}`, `lamps of ${houses[spot.house]!.name}`, "; lamp"]
        : [`lamp of ${houses[spot.house]!.name} on output ${spot.output}`, `lamps of ${houses[spot.house]!.name} on output ${spot.output}`, "; lamp"];
    case "house plus wire":
      return [`plus wire to ${houses[spot.house]!.name}`, "its plus wire"];
    case "input wire":
      return [`wire counter ${spot.output} to driver`];
    case "channel": {
      const connected = board.outputs.flatMap((loads, output) => (loads.length > 0 ? [output] : []));
      const place = connected.indexOf(spot.output);
      // up to eight on one package; ten outputs are shared as five and five
      const channel = connected.length <= 8 ? `1.${place + 1}` : place < 5 ? `1.${place + 1}` : `2.${place - 4}`;
      return kind === "channel-on" ? [`driver ${channel} stuck on (output ${spot.output})`] : [`driver ${channel} dead`];
    }
    case "driver minus wire":
      return [`minus wire of package ${spot.place + 1}`];
    case "clock wire":
      return ["clock wire"];
    case "clock":
      return ["gives no pulses", "no pulses from board"];
    case "reset wire":
      return ["wire from the counter's output to its reset"];
    case "reset":
      return ["counter held in reset"];
    case "track":
      return ["dirty track of the knob"];
    case "capacitor":
      return [kind === "cap-leaky" ? "leaky timing capacitor" : "timing capacitor that has aged"];
    case "channel wires":
      return [`wires of outputs ${spot.outputs[0]} and ${spot.outputs[1]} swapped`];
    case "two channels":
      return [`outputs ${spot.outputs[0]} and ${spot.outputs[1]} touch`];
    case "start":
      return ["part of the start pulse off"];
    case "register":
      return ["counter outside its cycle"];
    case "joint":
      return ["loose joint or plug"];
    case "knob":
      return [`knob turned towards ${spot.turned} steps`];
    case "plus wire":
      return ["plus wire of the board"];
    case "minus wire":
      return ["minus wire of the board"];
    case "supply":
      return ["supply of the board"];
    case "display supply":
      return ["supply of the whole display"];
  }
}

describe.each(demos)("the cards of $name", ({ table }) => {
  const cards = cardsOf(table);
  const times = watchTimes(table);

  test("every fault of every group of a board has its place, with those that look alike, the plainest first", () => {
    for (const [b, board] of table.scenario.boards.entries()) {
      const rows = rowsOf(cards[b]!);
      const groups = table.groups.flatMap(({ faults }) => {
        const own = faults.filter((fault) => fault.board === board.id || fault.board === null);
        return own.length === 0 ? [] : [own];
      });
      expect(rows).toHaveLength(groups.length);
      for (const own of groups) {
        const held = rows.filter(({ look }) => {
          const words = look.toLowerCase();
          const places = own.map((fault) => Math.max(...wordsFor(table.scenario, board, fault).map((any) => words.indexOf(any.toLowerCase()))));
          return places.every((place, i) => place >= 0 && place >= (places[i - 1] ?? 0)) && words.split(";").length === own.length;
        });
        expect(held, own.map(({ text }) => text).join()).toHaveLength(1);
        expect(held[0]!.see).not.toBe("");
        expect(held[0]!.tries).not.toBe("");
      }
    }
  });

  test("the time to watch is as it was worked out, and what cannot be seen has none", () => {
    const stated = cards.flatMap((sheets) => rowsOf(sheets).map(({ watch }) => watch));
    const expected = table.scenario.boards.flatMap(({ id }) =>
      table.groups.flatMap(({ faults }, g) =>
        faults.some(({ board }) => board === id || board === null) ? [times[g]!.hidden ? "–" : `${Math.ceil(times[g]!.until / 60e6)} min`] : [],
      ),
    );
    expect([...stated].sort()).toEqual([...expected].sort());
  });
});

const HOSTILE = [
  "The Extraordinarily Long Named House Of The Harbour Master, 2nd",
  "בית הספר הישן על המזח הצפוני של הנמל",
  "<script>alert(1)</script> & \"quoted\" ]]>",
  "Wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww",
  "家家家家家家家家家家家家家家家家家家家家",
  "👩‍👩‍👧 family",
];

/** A board with more outputs and steps than any card was drawn for. */
function bigBoard(): Scenario {
  const steps = Array.from({ length: 100 }, (_, s) => `[${s % 40}, ${(3 * s + 7) % 40}]`).join(", ");
  const outputs = Array.from({ length: 40 }, (_, o) => `${o}: [h${o % 25}, { house: h${(o + 9) % 25}, lamps: 2 }]`).join(", ");
  const houses = Array.from({ length: 25 }, (_, h) => `h${h}: {}`).join(", ");
  return parseScenario(
    `lampdrift: 1\ntitle: Big\nopening: { from: "10:00", until: "12:00", run: 1 }\nhouses: { ${houses} }\nboards:\n  big:\n    timer: { kind: quartz, step: 40 s }\n` +
      `    counter: { kind: table, steps: [${steps}] }\n    driver: { kind: mosfet }\n    outputs: { ${outputs} }\n`,
    "big.yaml",
  );
}

describe("what one sees, by hand", () => {
  const scenario = parseScenario(
    `lampdrift: 1\ntitle: By hand\nopening: { from: "10:00", until: "11:00", run: 1 }\nhouses: { a: { name: Ark }, b: {}, c: {}, d: { name: Dock } }\nboards:\n` +
      `  four: { timer: { kind: quartz, step: 60 s }, counter: { kind: ring, steps: 4 }, outputs: { 0: [a, b], 1: [c, d], 2: a, 3: b } }\n`,
    "hand.yaml",
  );
  const rows = rowsOf(cardsOf(faultTable(scenario))[0]!);

  test.each([
    ["Wire output 1 to c; its plus wire; lamp", "c stays dark"],
    ["Wire output 0 to Ark", "Ark dark 0:00 to 1:00 while b lit"],
    ["Wire output 2 to Ark; wire counter 2 to driver; driver 1.3 dead", "Ark dark 2:00 to 3:00, nothing else of this board lit"],
    ["Wire counter 0 to driver; driver 1.1 dead", "Nothing of this board lit 0:00 to 1:00, instead of Ark and b"],
    ["Wire counter 1 to driver; driver 1.2 dead", "c and Dock stay dark"],
    ["Driver 1.2 stuck on (output 1)", "c and Dock stay lit"],
    ["Plus wire to Ark; lamp of Ark", "Ark stays dark"],
    ["Clock wire to the counter; timer that gives no pulses; counter held in reset", "Nothing of this board changes: Ark and b stay lit, the rest dark"],
    // six steps without light, of which none should be: the round lasts ten minutes and not four
    ["Wire from the counter's output to its reset", "Nothing of this board lit 4:00 to 10:00"],
  ])("%s: %s", (look, see) => {
    expect(rows.find((row) => row.look === look)?.see).toMatch(new RegExp(`^${see}($|[,;])`));
  });

  test("a display of one board: its supply and that of the display look alike", () => {
    expect(rows[0]).toMatchObject({ see: "No house of the whole display is lit" });
    expect(rows[0]!.look).toContain("supply of the whole display");
    expect(rows[0]!.look).toContain("supply of the board");
  });

  test("a board that wakes anywhere is told by its neighbours, not by times", () => {
    const village = rowsOf(cardsOf(demos[0]!.table)[1]!);
    expect(village.find(({ look }) => look.startsWith("Wire output 0 to School"))?.see).toBe("School dark at times while Grocer is lit");
    expect(village.find(({ look }) => look.startsWith("Wire output 4 to School"))?.see).toBe("School dark at times while Doctor is lit");
    expect(village.map(({ see }) => see).join()).not.toMatch(/\d:\d\d/);
  });
});

describe("nothing overlaps, nothing leaves the sheet", () => {
  const renamed = (scenario: Scenario): Scenario => ({ ...scenario, houses: scenario.houses.map((house, h) => ({ ...house, name: HOSTILE[h % HOSTILE.length]! })) });
  const random = (thorough ? [1, 2, 3, 4, 5] : [1, 2]).map((seed) => ({ name: `random ${seed}`, scenario: parseScenario(toYaml(randomSpec(seed)), "random.yaml") }));
  const hostile = [...random, { name: "big", scenario: bigBoard() }].map(({ name, scenario }) => ({ name, table: faultTable(renamed(scenario)) }));

  test.each([...demos, ...hostile])("$name", ({ table }) => {
    const names = new Set<string>();
    for (const sheet of cardsOf(table).flat()) {
      expect(names.has(sheet.name)).toBe(false);
      names.add(sheet.name);
      expect(sheetFaults(sheet.svg), sheet.name).toEqual([]);
    }
  });

  test("a ten-output board, with all pairs of wires that may be swapped, needs four sheets", () => {
    expect(cardsOf(demos[0]!.table)[0]).toHaveLength(4);
  });
});

test("houses that other boards light too are named", () => {
  const scenario = parseScenario(
    `lampdrift: 1\ntitle: Shared\nopening: { from: "10:00", until: "12:00", run: 1 }\nhouses: { inn: { name: Old Inn }, pier: {} }\nboards:\n` +
      `  one: { timer: { kind: quartz, step: 60 s }, counter: { kind: ring, steps: 10 }, outputs: { 0: inn, 1: pier } }\n` +
      `  two: { timer: { kind: quartz, step: 70 s }, counter: { kind: ring, steps: 10 }, outputs: { 0: inn } }\n`,
    "shared.yaml",
  );
  const [one, two] = cardsOf(faultTable(scenario)).map((sheets) => sheets.map(({ svg }) => [...svg.querySelectorAll("text")].map((text) => text.textContent).join(" ")).join(" "));
  expect(one).toContain("Old Inn is lit by board two too");
  expect(one).not.toContain("pier is lit by board");
  expect(two).toContain("Old Inn is lit by board one too");
});
