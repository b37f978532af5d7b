import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { wiringCard } from "../../reports/cards/wiring.js";
import { document } from "../paper.js";
import { netlist, type Device, type Netlist, type Pin } from "../../sim/netlist/index.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { parseScenario } from "../../sim/scenario/read.js";
import { display, textOf } from "./displays.js";
import { sheetFaults } from "./sheets.js";
import { often } from "../thorough.js";


/** Displays of every sort, with drivers and trimmers of every sort, and houses with several lamps. */
const scenarios: fc.Arbitrary<Scenario> = fc
  .record({ text: display.map((one) => textOf(one)), mosfet: fc.boolean(), trimmer: fc.constantFrom(null, "ra" as const, "rb" as const), lamps: fc.integer({ min: 1, max: 12 }) })
  .map(({ text, mosfet, trimmer, lamps }) => {
    const scenario = parseScenario(text, "random.yaml");
    const part = { value: 470e3, minus: 0.2, plus: 0.2, tempco: 0, type: null };
    const boards = scenario.boards.map((board) => ({
      ...board,
      timer:
        board.timer.kind === "astable" && trimmer !== null
          ? { ...board.timer, trimmer: { part, in: trimmer, taper: "linear" as const, setting: { kind: "dial" as const, dial: 0.4 } } }
          : board.timer,
      driver: { kind: mosfet ? ("mosfet" as const) : ("darlington-8" as const), thermal: null },
      outputs: board.outputs.map((loads) => loads.map((load) => ({ ...load, lamps }))),
    }));
    return { ...scenario, boards };
  });

/** Terminals that wires join, directly or through others. */
function netsOf({ wires }: Netlist): Map<Pin, Set<Pin>> {
  const nets = new Map<Pin, Set<Pin>>();
  for (const { from, to } of wires) {
    const [a, b] = [nets.get(from.pin) ?? new Set([from.pin]), nets.get(to.pin) ?? new Set([to.pin])];
    const both = a === b ? a : new Set([...a, ...b]);
    for (const pin of both) nets.set(pin, both);
  }
  return nets;
}

/** Pins on the far side of the resistors between outputs and drivers. */
function throughResistor({ devices, wires }: Netlist, from: ReadonlySet<Pin>): Set<Pin> {
  const nets = netsOf({ wires } as Netlist);
  return new Set(devices.flatMap(({ name, pins: [a, b] }) => (/^R in /.test(name) && from.has(a!) ? [...nets.get(b!)!] : [])));
}

const having = ({ devices }: Netlist, role: Device["role"]): Device[] => devices.filter((device) => device.role === role);
const pinOf = (device: Device, name: string): Pin => device.pins.find((pin) => pin.name === name)!;

describe("the connections of a board", () => {
  test("each output lights its houses and no others: along wires, and backwards through no diode", () => {
    fc.assert(
      fc.property(scenarios, (scenario) => {
        scenario.boards.forEach((board, b) => {
          const net = netlist(scenario, b);
          const nets = netsOf(net);
          // what an output at minus draws current from: its own net, and the nets whose diodes have their ring there
          const diodes = having(net, "part").filter(({ name }) => /^D\d+$/.test(name));
          const pulled = (pin: Pin): Set<Pin> => {
            const own = nets.get(pin)!;
            return new Set([...own, ...diodes.flatMap(({ pins: [anode, cathode] }) => (own.has(cathode!) ? [...nets.get(anode!)!] : []))]);
          };
          board.outputs.forEach((loads, output) => {
            const into = nets.get(net.outputs[output]!.pin) ?? new Set();
            const channels = having(net, "driver").flatMap((device) =>
              device.pins.filter((pin) => /^(IN|gate)/.test(pin.name) && (into.has(pin) || throughResistor(net, into).has(pin))).map((pin) => ({ device, pin })),
            );
            expect(channels).toHaveLength(loads.length === 0 ? 0 : 1);
            if (loads.length === 0) return;
            const { device, pin } = channels[0]!;
            // input k lies opposite output k: their pin numbers add up to 19; a MOSFET has its drain
            const out = pin.number === null ? pinOf(device, "drain") : device.pins.find(({ number }) => number === 19 - pin.number!)!;
            const reached = pulled(out);
            const lit = having(net, "house").filter(({ pins }) => pins.some((each) => each.name !== "plus side" && reached.has(each)));
            expect(lit.map(({ name }) => name).sort()).toEqual([...new Set(loads.map(({ house }) => scenario.houses[house]!.name))].sort());
          });
        });
      }),
      { seed: 71, numRuns: often(8, 60) },
    );
  });

  test("wires are numbered from 1, plus never meets minus, every chip is fed, and every house has its plus", () => {
    fc.assert(
      fc.property(scenarios, (scenario) => {
        scenario.boards.forEach((board, b) => {
          const net = netlist(scenario, b);
          expect(net.wires.map(({ number }) => number)).toEqual(net.wires.map((_, i) => i + 1));
          const nets = netsOf(net);
          const [plus, minus] = (["plus", "minus"] as const).map((rail) => nets.get(having(net, rail)[0]!.pins[0]!)!);
          expect(plus).not.toBe(minus);
          const fed = (device: Device, up: readonly string[], down: readonly string[]): void => {
            for (const pin of device.pins) {
              if (up.includes(pin.name)) expect(plus!.has(pin), `${device.name} ${pin.name}`).toBe(true);
              if (down.includes(pin.name)) expect(minus!.has(pin), `${device.name} ${pin.name}`).toBe(true);
            }
          };
          for (const role of ["timer", "divider", "counter"] as const) for (const device of having(net, role)) fed(device, ["VCC", "VDD", "plus"], ["GND", "VSS", "minus"]);
          for (const device of having(net, "driver")) fed(device, [], ["GND", "source"]);
          for (const device of having(net, "house")) fed(device, ["plus side"], []);
          for (const device of having(net, "gate")) fed(device, ["VDD"], ["VSS"]);
          expect(having(net, "house")).toHaveLength(new Set(board.outputs.flat().map(({ house }) => house)).size);
        });
      }),
      { seed: 72, numRuns: often(9, 80) },
    );
  });

  test("no two outputs of a counter meet, nor do its outputs meet a rail", () => {
    fc.assert(
      fc.property(scenarios, (scenario) => {
        scenario.boards.forEach((_, b) => {
          const net = netlist(scenario, b);
          const nets = netsOf(net);
          const rails = (["plus", "minus"] as const).map((rail) => nets.get(having(net, rail)[0]!.pins[0]!)!);
          const outputs = [...having(net, "counter"), ...having(net, "gate")].flatMap(({ pins }) => pins.filter(({ name }) => /^(Q|Y|output )\d/.test(name)));
          const used = outputs.flatMap((pin) => nets.get(pin) ?? []);
          expect(new Set([...used, ...rails]).size).toBe(used.length + 2);
          // where a pin has a number, no other pin of the chip has it
          for (const { pins } of net.devices) {
            const numbers = pins.flatMap(({ number }) => number ?? []);
            expect(new Set(numbers).size).toBe(numbers.length);
          }
        });
      }),
      { seed: 73, numRuns: often(9, 80) },
    );
  });
});

describe("the wiring card", () => {
  test("plan and table show every wire; nothing overlaps or leaves the sheet", () => {
    fc.assert(
      fc.property(scenarios, (scenario) => {
        scenario.boards.forEach((_, b) => {
          const numbers = netlist(scenario, b).wires.map(({ number }) => number);
          const sheets = [...wiringCard({ document, scenario, digest: "01234567", dated: null }, b)];
          for (const { svg } of sheets) expect(sheetFaults(svg)).toEqual([]);
          const drawn = sheets.flatMap(({ svg }) => [...svg.querySelectorAll("[data-wires]")].flatMap((badge) => badge.getAttribute("data-wires")!.split(" ").map(Number)));
          expect([...new Set(drawn)].sort((x, y) => x - y)).toEqual(numbers);
          const rows = sheets.flatMap(({ svg }) => [...svg.querySelectorAll('text[x="0"][font-weight="bold"]')].map(({ textContent }) => textContent));
          expect(rows.filter((text) => /^\d+$/.test(text)).map(Number)).toEqual(numbers);
        });
      }),
      { seed: 74, numRuns: often(4, 20) },
    );
  });

  test("values of many digits keep clear of the key, and of each other", () => {
    const scenario = parseScenario(
      "lampdrift: 1\ntitle: Digits\nhouses: { inn: }\nboards:\n  a:\n    timer: { kind: astable, ra: 4.7654321k, rb: 4.7654321k, c: 47.654321 uF, trimmer: { value: 1.2345678M, in: rb }, dial: 30 % }\n" +
        "    counter: { kind: ring, steps: 4 }\n    outputs: { 0: inn }\n  b: { timer: { kind: carry, from: a }, counter: { kind: ring, steps: 2 }, outputs: { 0: inn } }\n",
      "digits.yaml",
    );
    for (const { name, svg } of wiringCard({ document, scenario, digest: "01234567", dated: null }, 0)) expect(sheetFaults(svg), name).toEqual([]);
  });

  test("sixty steps, houses with long and foreign names, and a board that clocks six others", () => {
    const names = ["a name of sixty characters a name of sixty characters a name", "בית קפה", "港の灯台", "<img src=x>", "WWWWWWWWWWWWWWWWWWWW", "i"];
    const others = Array.from({ length: 6 }, (_, i) => `  other-board-${i}: { timer: { kind: carry, from: b }, counter: { kind: ring, steps: 3 }, outputs: { 0: h0 } }`);
    for (const counter of ["{ kind: ring, steps: 60 }", "{ kind: ring, steps: 4 }"]) {
      const count = Number(/\d+/.exec(counter)![0]);
      const outputs = Array.from({ length: count }, (_, o) => `${o}: [${names.map((_name, h) => `h${h}`).slice(0, 1 + (o % 6)).join(", ")}]`);
      const scenario = parseScenario(
        `lampdrift: 1\ntitle: Long\nhouses:\n${names.map((name, i) => `  h${i}: { name: ${JSON.stringify(name)} }`).join("\n")}\nboards:\n  b: { timer: { kind: quartz, step: 9 s }, counter: ${counter}, outputs: { ${outputs.join(", ")} } }\n${others.join("\n")}\n`,
        "long.yaml",
      );
      const sheets = wiringCard({ document, scenario, digest: "01234567", dated: "2031-05-17" }, 0);
      for (const { name, svg } of sheets) expect(sheetFaults(svg), name).toEqual([]);
    }
  });
});
