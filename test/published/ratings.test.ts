import { describe, expect, test } from "vitest";
import { simulate } from "../../sim/engine/simulate.js";
import { leakageBudget, leakageNotes, ratingNotes, ratings, verdictOf, type Rating } from "../../sim/ratings/index.js";
import { inputAmps } from "../../sim/ratings/own.js";
import { ScenarioError } from "../../sim/scenario/problems.js";
import { parseScenario } from "../../sim/scenario/read.js";

interface Display {
  readonly supply?: string;
  readonly room?: string;
  readonly lamps?: string;
  readonly boards: string;
  readonly houses?: number;
}

function yaml({ supply = "{}", room = "{}", lamps = "{ bulb: { amps: 20 mA } }", boards, houses = 10 }: Display): string {
  const names = Array.from({ length: houses }, (_, h) => `h${h}: {}`).join(", ");
  return `{ lampdrift: 1, title: t, opening: { from: "10:00", until: "11:00", run: 1 }, supply: ${supply}, room: ${room},
    lamps: ${lamps}, houses: { ${names} }, boards: { ${boards} } }`;
}

function rate(display: Display): Rating[] {
  const scenario = parseScenario(yaml(display), "t.yaml");
  return ratings(scenario, simulate(scenario, { trace: true }));
}

function row(rows: readonly Rating[], what: string, where?: string): Rating {
  const found = rows.filter((one) => one.what === what && (where === undefined || one.where === where));
  expect(found).toHaveLength(1);
  return found[0]!;
}

/** A board with a single row, in which n channels are on all the time, each with one lamp. */
const allOn = (n: number, driver = "{}"): string => {
  const row = Array.from({ length: n }, (_, i) => i);
  const outputs = row.map((i) => `${i}: h${i}`).join(", ");
  return `b: { timer: { kind: quartz, step: 60 }, driver: ${driver}, counter: { kind: table, steps: [[${row.join(", ")}]] }, outputs: { ${outputs} } }`;
};

describe("driver packages, all eight channels on", () => {
  // Toshiba 2003-type sheet p. 4 (saturation voltages); Motorola ULN2803/D (RthJA 55 C/W, TJ max 125 C), 25 C room
  test.each([
    ["100 mA", 0.88, "within"],
    ["200 mA", 2.08, "over"],
    ["350 mA", 4.48, "over"],
  ])("%s each: %d W, %s", (amps, watts, verdict) => {
    const heat = row(rate({ lamps: `{ bulb: { amps: ${amps} } }`, boards: allOn(8) }), "driver package heat");
    expect(heat.value).toBeCloseTo(watts, 9);
    expect(heat.limit).toBeCloseTo(100 / 55, 9);
    expect(heat.verdict).toBe(verdict);
    expect(heat.share).toBeCloseTo(watts / 1.8181818, 6);
    expect(heat.worst?.houses).toEqual(["h0", "h1", "h2", "h3", "h4", "h5", "h6", "h7"]);
  });

  test("100 mA each warms the chip by 48.4 K; 350 mA each may be on 40.6 % of the time", () => {
    const warm = row(rate({ lamps: "{ bulb: { amps: 100 mA } }", boards: allOn(8) }), "driver package heat");
    expect(warm.value * 55).toBeCloseTo(48.4, 9);
    const hot = row(rate({ lamps: "{ bulb: { amps: 350 mA } }", boards: allOn(8) }), "driver package heat");
    expect(1 / hot.share).toBeCloseTo(0.406, 3);
  });

  test("a warm room takes from the limit: 1.545 W at 40 °C", () => {
    const rows = rate({ room: "{ mean: 30 °C, swing: 10 K }", boards: allOn(8) });
    expect(row(rows, "driver package heat").limit).toBeCloseTo(1.545, 3);
  });

  test("the file may give another thermal resistance", () => {
    const rows = rate({ boards: allOn(8, "{ thermal: 110 K/W }") });
    expect(row(rows, "driver package heat").limit).toBeCloseTo(100 / 110, 9);
  });

  test("ten outputs share two packages", () => {
    const rows = rate({ lamps: "{ bulb: { amps: 200 mA } }", boards: allOn(10) });
    const heat = rows.filter(({ what }) => what === "driver package heat");
    expect(heat.map(({ where }) => where)).toEqual(["b driver 1 (outputs 0, 1, 2, 3, 4)", "b driver 2 (outputs 5, 6, 7, 8, 9)"]);
    // 5 channels of 200 mA · 1.3 V
    for (const one of heat) expect(one.value).toBeCloseTo(1.3, 9);
    // ground pin of the 2803 type, 2.5 A: from memory
    expect(row(rate({ lamps: "{ bulb: { amps: 320 mA } }", boards: allOn(8) }), "driver package current").verdict).toBe("over");
  });
});

describe("driver channels", () => {
  // TI ULN2803A SLRS049C: 500 mA a channel
  test("one lamp at the channel limit is close, two are over, with advice", () => {
    const one = row(rate({ lamps: "{ bulb: { amps: 500 mA } }", boards: allOn(1) }), "driver channel current");
    expect([one.share, one.verdict]).toEqual([1, "close"]);
    const boards = "b: { timer: { kind: quartz, step: 60 }, counter: { kind: ring, steps: 2 }, outputs: { 0: h0, 1: { house: h1, lamps: 2 } } }";
    const two = row(rate({ lamps: "{ bulb: { amps: 500 mA } }", boards }), "driver channel current", "b output 1");
    expect([two.value, two.limit, two.share, two.verdict]).toEqual([1, 0.5, 2, "over"]);
    expect(two.advice).toMatch(/more outputs.*two channels together.*MOSFET/);
    // output 1 comes on when the first minute is over
    expect(two.worst).toEqual({ at: 36_060e6, houses: ["h1"] });
  });

  test("80 % of the limit is within, to the last lamp", () => {
    const share = (lamps: number): Rating => {
      const boards = `b: { timer: { kind: quartz, step: 60 }, counter: { kind: ring, steps: 2 }, outputs: { 0: { house: h0, lamps: ${lamps} } } }`;
      return row(rate({ lamps: "{ bulb: { amps: 0.1 } }", boards }), "driver channel current");
    };
    expect([3, 4, 5, 6].map((lamps) => share(lamps).verdict)).toEqual(["within", "within", "close", "over"]);
    expect(share(4).advice).toBeNull();
    expect([0.8, 0.801, 1, 1.001].map(verdictOf)).toEqual(["within", "close", "close", "over"]);
  });

  test("a MOSFET carries what a Darlington channel does not", () => {
    const rows = rate({ lamps: "{ bulb: { amps: 1 A } }", boards: allOn(2, "{ kind: mosfet }") });
    expect(rows.filter(({ what }) => what === "driver channel current").map(({ verdict }) => verdict)).toEqual(["within", "within"]);
    // 1 A through 0.1 Ω (common practice, no source)
    expect(row(rows, "driver package heat", "b driver 1 (output 0)").value).toBeCloseTo(0.1, 9);
  });
});

describe("counter and driver input", () => {
  const ring = (supply: string, amps: string): Rating[] =>
    rate({
      supply,
      lamps: `{ bulb: { amps: ${amps} } }`,
      boards: "b: { timer: { kind: measured, step: 60 }, counter: { kind: ring, steps: 2 }, outputs: { 0: h0, 1: h1 } }",
    });

  // needed: 250, 350, 500 µA at 100, 200, 350 mA (Toshiba 2003-type sheet p. 4)
  test.each([["100 mA", 250e-6], ["200 mA", 350e-6], ["350 mA", 500e-6]])("%s takes %d A", (amps, input) => {
    expect(row(ring("{ volts: 12 V }", amps), "counter output current").value).toBeCloseTo(input, 12);
  });

  // settled: the input's (V - 1.4)/2.7 k behind the output's own resistance; the least that National CD4017B promises is
  // 0.2 mA with 0.4 V lost at 5 V. MC14022B loses current to 75.3 % of Ohm's law when loaded that much
  test("at 5 V the loaded output settles low and still drives 100 mA", () => {
    const at5 = row(ring("{ volts: 5 V }", "100 mA"), "counter output current");
    const ohms = 0.4 / 0.2e-3 / 0.753;
    expect(at5.limit).toBeCloseTo((5 - 1.4) / (2700 + ohms), 6);
    expect(at5.limit).toBeLessThan(1.35e-3);
    expect(at5.verdict).toBe("within");
    expect(row(ring("{ volts: 3 V }", "350 mA"), "counter output current").verdict).toBe("over");
  });

  test("supply 3 to 15 V (National CD4017B)", () => {
    const verdicts = [2, 3, 4, 12, 13, 15, 16].map((volts) => row(ring(`{ volts: ${volts} }`, "20 mA"), "counter supply").verdict);
    expect(verdicts).toEqual(["over", "close", "within", "within", "close", "close", "over"]);
  });

  test("programmed parts are noted, not rated", () => {
    const display = { boards: allOn(2) };
    expect(rate(display).some(({ what }) => what.startsWith("counter"))).toBe(false);
    const scenario = parseScenario(yaml(display), "t.yaml");
    const notes = ratingNotes(scenario, simulate(scenario, { trace: true }));
    expect(notes.find(({ where }) => where === "b")?.text).toContain("170 µA");
  });
});

describe("supply and regulator", () => {
  test("12 V to 5 V at 200 mA: 1.4 W, and 91 K at 65 K/W", () => {
    // TO-220 RthJA 65 C/W: Fairchild LM78XX rev 1.3.1 p. 2; 125 °C from memory
    const rows = rate({ supply: "{ volts: 12 V, regulator: { out: 5 V } }", lamps: "{ bulb: { amps: 100 mA } }", boards: allOn(2) });
    const heat = row(rows, "regulator heat");
    // 1.4 W for the lamps, and 7 V times what chips and driver inputs take besides
    const own = 15.6e-3 + 2 * inputAmps(5);
    expect(heat.value).toBeCloseTo(1.4 + 7 * own, 9);
    expect((heat.value - 7 * own) * 65).toBeCloseTo(91, 9);
    expect(heat.limit).toBeCloseTo(100 / 65, 9);
    expect(heat.verdict).toBe("close");
    // specified at 1 A: TI LM340A SNOSBT0L 6.5
    expect(row(rows, "regulator current")).toMatchObject({ limit: 1, verdict: "within" });
    expect(row(rows, "regulator current").value).toBeCloseTo(0.2 + own, 9);
    // dropout 2 V typical at 1 A: TI LM340A SNOSBT0L 6.5
    expect(row(rows, "regulator headroom")).toMatchObject({ value: 7, limit: 2, share: 2 / 7, verdict: "within" });
    expect(row(rows, "regulator input voltage")).toMatchObject({ value: 12, limit: 35, verdict: "within" });
  });

  test("headroom is a least: dropout over headroom", () => {
    const headroom = (volts: number): Rating =>
      row(rate({ supply: `{ volts: ${volts}, regulator: { out: 10, dropout: 2 } }`, boards: allOn(1) }), "regulator headroom");
    expect([11, 12, 12.5, 13].map((volts) => headroom(volts).verdict)).toEqual(["over", "close", "within", "within"]);
  });

  test("a warm room takes from the regulator too", () => {
    const rows = rate({ supply: "{ regulator: { out: 5 V, thermal: 20 K/W } }", room: "{ mean: 30 °C, swing: 10 K }", boards: allOn(1) });
    expect(row(rows, "regulator heat").limit).toBeCloseTo((125 - 40) / 20, 9);
  });

  test("the boards run on what the regulator lets through", () => {
    const scenario = parseScenario(yaml({ supply: "{ volts: 18 V, regulator: { out: 12 V, thermal: 20 K/W } }", boards: allOn(1) }), "t.yaml");
    expect(scenario.supply).toMatchObject({ volts: 12, regulator: { input: 18, dropout: 2, thermal: 20 } });
    expect(scenario.assumptions.map(({ path }) => path)).toContain("supply.regulator.dropout");
  });

  test("a regulator cannot put out more than goes in", () => {
    expect(() => parseScenario(yaml({ supply: "{ volts: 12 V, regulator: { out: 12 V } }", boards: allOn(1) }), "t.yaml")).toThrow(
      /supply\.regulator\.out: found "12 V"; expected a voltage below the supply's volts/,
    );
    expect(() => parseScenario(yaml({ supply: "{ regulator: { out: 5 V, dropot: 1 } }", boards: allOn(1) }), "t.yaml")).toThrow(ScenarioError);
  });

  test("worst moment and mean of two rings, by hand", () => {
    // a: 0 and 1 in turn, 60 s each, 20 and 60 mA; b: 0, 1, 2 in turn, 40 s each, 0, 40, 100 mA. In 120 s
    // a is on for (20 + 60)/2 = 40 mA on the mean, b for 140/3 mA; both highs first meet from 80 s on
    const boards = `a: { timer: { kind: quartz, step: 60 }, counter: { kind: ring, steps: 2 }, outputs: { 0: h0, 1: { house: h1, lamps: 3 } } },
      b: { timer: { kind: quartz, step: 40 }, counter: { kind: ring, steps: 3 }, outputs: { 1: { house: h2, lamps: 2 }, 2: { house: h3, lamps: 5 } } }`;
    const rows = rate({ supply: "{ limit: 300 mA }", boards });
    const most = row(rows, "supply current, worst moment");
    // besides the lamps: a controller and a counter on each board, and a driver input for every output that is on
    const [own, input] = [2 * 15.6e-3, inputAmps(12)];
    expect(most.value).toBeCloseTo(0.16 + own + 2 * input, 12);
    expect(most).toMatchObject({ verdict: "within", worst: { at: 36_080e6, houses: ["h1", "h3"] } });
    expect(row(rows, "supply current, mean").value).toBeCloseTo(0.04 + 0.14 / 3 + own + (1 + 2 / 3) * input, 12);
  });

  test("without a limit the need is noted", () => {
    // three lamps of 20 mA, 15.6 mA for a controller and counter, three driver inputs of 2.65 mA
    expect(60 + 15.6 + 3000 * inputAmps(12)).toBeCloseTo(83.5, 1);
    const scenario = parseScenario(yaml({ boards: allOn(3) }), "t.yaml");
    const record = simulate(scenario, { trace: true });
    expect(ratings(scenario, record).some(({ what }) => what.startsWith("supply"))).toBe(false);
    expect(ratingNotes(scenario, record).find(({ where }) => where === "supply")?.text).toMatch(/Lamps and boards take at most 83.5 mA \(first in opening 1 \(Mon\) at 10:00\)/);
    expect(ratingNotes(scenario, record).find(({ where }) => where === "supply")?.text).toContain("a supply of 104 mA would have a fifth in hand");
  });

  test("a record without its trace is refused", () => {
    const scenario = parseScenario(yaml({ boards: allOn(1) }), "t.yaml");
    expect(() => ratings(scenario, simulate(scenario))).toThrow(/trace/);
  });
});

describe("lamp voltage", () => {
  const lamp = (volts: string, driver = "{}", rated = "12 V"): Rating =>
    row(rate({ supply: `{ volts: ${volts} }`, lamps: `{ bulb: { volts: ${rated}, watts: 1.2 W } }`, boards: allOn(1, driver) }), "lamp voltage");

  // 0.9 V typical at 100 mA: Toshiba 2003-type sheet p. 4
  test("12 V less the typical drop at 100 mA is 11.1 V, which a 12 V lamp likes", () => {
    expect(lamp("12 V").value).toBeCloseTo(11.1, 9);
    expect(lamp("12 V").verdict).toBe("within");
    expect(lamp("12.9 V", "{}").verdict).toBe("within");
    expect(lamp("12 V", "{ kind: mosfet }").value).toBeCloseTo(11.99, 9);
  });

  test("of several outputs the worst off counts", () => {
    const boards = "b: { timer: { kind: quartz, step: 60 }, counter: { kind: ring, steps: 3 }, outputs: { 0: h0, 1: { house: h1, lamps: 3 }, 2: h2 } }";
    const lamps = "{ bulb: { volts: 12 V, watts: 1.2 W } }";
    // 300 mA: 1.3 V at 350 mA less a third of the way to 1.1 V at 200 mA
    const dim = row(rate({ lamps, boards }), "lamp voltage");
    expect(dim.where).toBe("b output 1, bulb");
    expect(dim.value).toBeCloseTo(12 - (1.3 - 0.2 / 3), 9);
    expect(row(rate({ supply: "{ volts: 14 V }", lamps, boards }), "lamp voltage").where).toBe("b output 0, bulb");
  });

  test("above its rating a lamp is over; far below it is dim", () => {
    expect(lamp("13 V")).toMatchObject({ verdict: "over", limit: 12 });
    expect(lamp("11 V").verdict).toBe("close");
    expect(lamp("9 V").verdict).toBe("over");
  });
});

describe("timers", () => {
  const astable = (parts: string, supply = "{ volts: 12 V }"): Display => ({
    supply,
    boards: `b: { timer: { kind: astable, ${parts} }, counter: { kind: ring, steps: 2 }, outputs: { 0: h0 } }`,
  });

  // never trips when I(RA+RB) >= V/3; 12 V, 2 MOhm: I = 2.0 µA
  test("stall margin at 12 V and 2 MΩ", () => {
    const margin = (leakage: string): Rating =>
      row(rate(astable(`ra: 1M, rb: 1M, c: { value: 100 uF, leakage: ${leakage} }`)), "timer stall margin");
    expect(margin("1.9 uA")).toMatchObject({ verdict: "close", limit: 8 });
    expect(margin("1.9 uA").value).toBeCloseTo(12 - 3.8, 9);
    expect(margin("0 uA").value).toBe(12);
    // half of what may be lost is lost: 10 V left, 80 % of it the threshold
    expect(margin("1 uA").verdict).toBe("within");
    expect(margin("1.001 uA").verdict).toBe("close");
    expect(margin("{ typical: 1 uA, limit: 2 uA }").share).toBeCloseTo(1, 12);
    expect(() => rate(astable("ra: 1M, rb: 1M, c: { value: 100 uF, leakage: 2 uA }"))).toThrow(/stalls/);
  });

  // TI SLFS022A p. 4: threshold current 30 nA typical, 250 nA maximum
  test("the stall margin counts the largest threshold current", () => {
    const rows = rate(astable("ra: 1M, rb: 2M, c: { value: 1 uF, leakage: 0.1 uA }, chip: bipolar"));
    expect(row(rows, "timer stall margin").value).toBeCloseTo(12 - 3 * 0.35, 9);
    // the budget is that beside the typical one
    expect(row(rows, "capacitor leakage").limit).toBe(leakageBudget(12, 3e6, 2e6, 30e-9).within5Percent);
  });

  test("the knob counts: RA + RB with all of the trimmer, budgets where the dial stands", () => {
    const knob = (where: string): string =>
      `ra: 100k, rb: 200k, chip: cmos, c: { value: 100 uF, leakage: 1 nA }, trimmer: { value: 1M, in: ${where}, dial: 50 % }`;
    const inRb = rate(astable(knob("rb")));
    expect(row(inRb, "timer RA + RB").value).toBe(1.3e6);
    expect(row(inRb, "capacitor leakage").limit).toBe(leakageBudget(12, 800e3, 700e3, 10e-12).within5Percent);
    expect(row(rate(astable(knob("ra"))), "capacitor leakage").limit).toBe(leakageBudget(12, 800e3, 200e3, 10e-12).within5Percent);
    const note = leakageNotes(parseScenario(yaml(astable(knob("rb").replace("leakage: 1 nA", "type: film"))), "t.yaml"))[0]?.text;
    // 4 V over 800 kΩ
    expect(note).toContain("at 5 µA the timer stalls");
  });

  test("chip limits", () => {
    // SLFS022 (Feb 1992) note 2: about 3.4 MOhm at 5 V
    const rows = rate(astable("ra: 1.2k, rb: 3.4M, c: 1 uF, chip: bipolar", "{ volts: 5 V }"));
    expect(row(rows, "timer RA + RB")).toMatchObject({ limit: 3.4e6, verdict: "over" });
    // from memory: RA at 1 k or more
    expect(row(rows, "timer RA, least value")).toMatchObject({ limit: 1000, verdict: "close" });
    // and the resistor may have a fifth less than is printed on it
    expect(row(rate(astable("ra: 1.2k 20 %, rb: 10k, c: 1 uF, chip: bipolar")), "timer RA, least value")).toMatchObject({ value: 960, verdict: "over" });
    // NE555: 4.5 to 16 V (Diodes DS35112 rev 4)
    expect(row(rows, "timer supply")).toMatchObject({ limit: 4.5, share: 0.9, verdict: "close" });
    // TLC555: 2-15 V (SLFS043C p. 1)
    expect(row(rate(astable("ra: 10k, rb: 10k, c: 1 uF, chip: cmos", "{ volts: 16 V }")), "timer supply").verdict).toBe("over");
    // LMC555 15 V, ICM7555 18 V absolute maximum (TI SNAS558N; Intersil ICM7555 p. 2-3)
    const absolute = (chip: string, supply: string): Rating =>
      row(rate(astable(`ra: 10k, rb: 10k, c: 1 uF, chip: ${chip}`, supply)), "timer supply, absolute maximum");
    expect(absolute("cmos", "{ volts: 16 V }")).toMatchObject({ value: 16, limit: 15, verdict: "over" });
    expect(absolute("ICM7555", "{ volts: 16 V }")).toMatchObject({ value: 16, limit: 18, verdict: "close" });
    // an unregulated supply: 1.4 times at light load (common practice, no source)
    expect(absolute("TLC555", "{ volts: 12 V, regulated: false }").value).toBeCloseTo(16.8, 9);
    expect(rate(astable("ra: 10k, rb: 10k, c: 1 uF")).some(({ what }) => what === "timer supply")).toBe(false);
  });

  test("leakage budget: the 5 % by stepping through leakages with times integrated by small steps", () => {
    const [volts, r1, r2] = [12, 930e3, 700e3];
    const period = (leak: number): number => {
      const steps = 2000;
      let seconds = 0;
      for (let i = 0; i < steps; i++) {
        const v = volts / 3 + ((i + 0.5) / steps) * (volts / 3);
        seconds += (volts / 3 / steps) * (1 / ((volts - v) / r1 - leak) + 1 / (v / r2 + leak));
      }
      return seconds;
    };
    const ideal = period(0);
    let leak = 0;
    while (period(leak + 1e-9) <= 1.05 * ideal) leak += 1e-9;
    const budget = leakageBudget(volts, r1, r2, 0);
    expect(Math.abs(budget.within5Percent - leak)).toBeLessThan(1.5e-9);
    expect(budget.stall).toBeCloseTo(4 / 930e3, 15);
    // the chip's threshold current takes its part
    expect(leakageBudget(volts, r1, r2, 250e-9).stall).toBeCloseTo(4 / 930e3 - 250e-9, 15);
    expect(leakageBudget(volts, r1, r2, 5e-6)).toEqual({ within5Percent: 0, stall: 0 });
  });

  test("a leakage that is given is rated against the budget", () => {
    const rows = rate(astable("ra: 230k, rb: 700k, c: { value: 100 uF, leakage: 0.5 uA }"));
    const budget = leakageBudget(12, 930e3, 700e3, 0).within5Percent;
    expect(row(rows, "capacitor leakage")).toMatchObject({ value: 0.5e-6, limit: budget });
  });

  // Nichicon VR (UVR) series sheet: 0.01 C V of the rated voltage
  test("at the published limit an electrolytic stalls any timer longer than about 45 s, whatever its size", () => {
    // R1·0.01·C·V = V/3, so R1·C = 33.3 s, and a period is at most 2·ln 2·R1·C
    const longest = 2 * Math.LN2 * (100 / 3);
    expect(longest).toBeGreaterThan(45);
    expect(longest).toBeLessThan(47);
    for (const c of [47e-6, 470e-6, 4700e-6]) {
      const leak = 0.01 * c * 12;
      for (const seconds of [40, 50]) {
        const r = seconds / (2 * Math.LN2 * c);
        expect(leakageBudget(12, r, r, 0).stall > leak).toBe(seconds < longest);
      }
    }
  });

  test("a leakage nobody gave is noted with budget, published limit and measurement", () => {
    const note = (c: string): string | undefined =>
      leakageNotes(parseScenario(yaml(astable(`ra: 230k, rb: 700k, c: ${c}`)), "t.yaml"))[0]?.text;
    const text = note("{ value: 100 uF, type: electrolytic }");
    // 0.01 · 100 µF · 16 V
    expect(text).toContain("16 µA");
    expect(text).toContain("Nichicon VR (UVR)");
    expect(text).toContain("4.3 µA"); // the stall: 4 V over 930 kΩ
    expect(text).toMatch(/100 kΩ in series.*voltage across the resistor/);
    // max(0.002 C V, 0.2 µA): Nichicon KL series sheet
    expect(note("{ value: 100 uF, type: low-leakage }")).toContain("3.2 µA");
    // a budget that 1 MΩ would need: 1.5 · 4 MΩ · I = 5 % · 12 V · ln 2 to first order, some 70 nA
    const large = leakageNotes(parseScenario(yaml(astable("ra: 4M, rb: 1M, c: 10 uF")), "t.yaml"))[0]?.text;
    expect(large).toMatch(/and 1 MΩ in series/);
    expect(note("{ value: 100 uF, leakage: 0 }")).toBeUndefined();
    expect(note("4.7 uF")).toBeUndefined();
  });
});

describe("what people wire", () => {
  const ring = (outputs: string, driver = ""): string => `b: { timer: { kind: quartz, step: 60 }, ${driver} counter: { kind: ring, steps: 4 }, outputs: { ${outputs} } }`;

  test("a house wired together: every channel with all its lamps, the supply with them once", () => {
    const boards = `b: { timer: { kind: quartz, step: 60 }, counter: { kind: table, steps: [[0, 1]] }, outputs: { 0: { house: h0, lamps: 3 }, 1: { house: h0, lamps: 3 } } }`;
    const own = 15.6e-3 + 2 * inputAmps(12);
    const together = rate({ supply: "{ limit: 1 A }", boards });
    for (const output of [0, 1]) expect(row(together, "driver channel current", `b output ${output}`).value).toBeCloseTo(0.06, 12);
    expect(row(together, "supply current, mean").value).toBeCloseTo(0.06 + own, 12);
    const text = yaml({ supply: "{ limit: 1 A }", boards }).replace("h0: {}", "h0: { wired: apart }");
    const scenario = parseScenario(text, "t.yaml");
    expect(row(ratings(scenario, simulate(scenario, { trace: true })), "supply current, mean").value).toBeCloseTo(0.12 + own, 12);
  });

  test("four filament lamps of 1 W on one channel: 67 % of its current, and 3.3 A of its 600 mA at switch-on", () => {
    // cold filament 10 times the hot current (Allegro AN 29501); 600 mA peak (ST ULN2803A, DocID1536 rev 4)
    const lamps = "{ bulb: { volts: 12 V, watts: 1 W, filament: true } }";
    const rows = rate({ lamps, boards: ring("0: { house: h0, lamps: 4 }") });
    expect(row(rows, "driver channel current").share).toBeCloseTo(2 / 3, 9);
    const inrush = row(rows, "filament at switch-on");
    expect(inrush.value).toBeCloseTo(10 / 3, 9);
    expect(inrush).toMatchObject({ limit: 0.6, verdict: "over" });
    const warm = rate({ lamps: lamps.replace("true", "true, cold: 4"), boards: ring("0: h0") });
    expect(row(warm, "filament at switch-on").value).toBeCloseTo(4 / 12, 9);
    // on output 1 the worst moment is when that comes on, as the first minute is over
    const boards = "b: { timer: { kind: quartz, step: 60 }, counter: { kind: ring, steps: 2 }, outputs: { 1: h1 } }";
    const second = row(rate({ lamps: lamps.replace("true", "true, cold: 4"), boards }), "filament at switch-on", "b output 1");
    expect(second.worst).toEqual({ at: 36_060e6, houses: ["h1"] });
    expect(rate({ boards: ring("0: h0") }).some(({ what }) => what === "filament at switch-on")).toBe(false);
  });

  test("a bare LED at 12 V through a 2803: 408 Ω, so 430 Ω of E24, and 0.16 W", () => {
    // (12 − 0.74 − 3.1) V / 20 mA (arithmetic; 0.74 V from the Toshiba points); E24: IEC 60063
    const rows = rate({ lamps: "{ bulb: { forward: 3.1 V, amps: 20 mA } }", boards: ring("0: h0") });
    const resistor = row(rows, "series resistor 430 Ω");
    expect(resistor.value).toBeCloseTo(8.16 ** 2 / (430 * 0.95), 9);
    expect(resistor.value).toBeCloseTo(0.16, 2);
    expect(resistor).toMatchObject({ limit: 0.25, verdict: "within" });
    // three in series on one resistor take the current of one
    const series = rate({ lamps: "{ bulb: { forward: 3.1 V, amps: 20 mA, in: 3 } }", boards: ring("0: { house: h0, lamps: 6 }") });
    expect(row(series, "driver channel current").value).toBeCloseTo(0.04, 12);
    expect(row(series, "series resistor 100 Ω").value).toBeCloseTo((12 - 0.74 - 9.3) ** 2 / 95, 9);
  });

  test("behind a diode the LED's resistor is smaller: 378 Ω, so 390 Ω of E24; an output without one keeps 430 Ω", () => {
    // 0.6 V of a silicon diode: common practice, no source; (12 − 0.74 − 0.6 − 3.1) V / 20 mA (arithmetic)
    const lamps = "{ bulb: { forward: 3.1 V, amps: 20 mA } }";
    const joined = rate({ lamps, boards: ring("0: [h0, h1], 1: [h0, h2]") });
    expect(row(joined, "series resistor 390 Ω").value).toBeCloseTo((12 - 0.74 - 0.6 - 3.1) ** 2 / (390 * 0.95), 9);
    expect(rate({ lamps, boards: ring("0: [h0, h1], 1: h0") }).filter(({ what }) => what.startsWith("series")).map(({ what }) => what))
      .toEqual(["series resistor 430 Ω"]);
  });

  test("an unregulated supply: what destroys the counters, 18 V (National CD4017B, Fairchild CD4017BC)", () => {
    // 1.4 times at light load: common practice, no source
    const boards = "b: { timer: { kind: measured, step: 60 }, counter: { kind: ring, steps: 2 }, outputs: { 0: h0 } }";
    const high = row(rate({ supply: "{ volts: 13 V, regulated: false }", boards }), "counter supply, absolute maximum");
    expect(high.value).toBeCloseTo(18.2, 9);
    expect(high).toMatchObject({ limit: 18, verdict: "over" });
    expect(rate({ supply: "{ volts: 13 V }", boards }).some(({ what }) => what.startsWith("counter supply, abs"))).toBe(false);
  });

  test("forward voltages that do not fit under the supply are refused at their place", () => {
    const text = yaml({ lamps: "{ bulb: { forward: 3.1 V, amps: 20 mA, in: 4 } }", boards: ring("0: { house: h0, lamps: 4 }") });
    expect(() => parseScenario(text, "t.yaml")).toThrow(/t\.yaml:2:\d+: lamps\.bulb\.forward: .*4 in series: 12\.4 V.*leaves nothing for the resistor/);
  });

  test("twenty ampere for a lamp draw a question that names the line", () => {
    // of the houses nine are lit by nothing, which is said too
    const warned = (amps: number) => parseScenario(yaml({ lamps: `{ bulb: { amps: ${amps} } }`, boards: ring("0: h0") }), "t.yaml").warnings;
    const warnings = warned(20).filter(({ path }) => path.startsWith("lamps"));
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toMatchObject({ path: "lamps.bulb.amps", message: 'found 20, which is 20 A for every lamp of this kind; is "20 mA" meant?' });
    expect(warnings[0]!.place).toMatch(/^t\.yaml:2:\d+$/);
    expect(warned(2).filter(({ path }) => !path.startsWith("houses"))).toEqual([]);
  });

  test("discharge pin: the capacitor through the least rb, and the supply through the least ra", () => {
    // 15 mA, 0.48 V: ST NE555, Doc ID 2182 rev 6, p. 5
    const boards = "b: { timer: { kind: astable, ra: 1k ±5 %, rb: 1k ±5 %, c: 1 uF, chip: bipolar, divide: 1024, trimmer: { value: 100k ±20 %, in: rb, dial: 50 % } }, counter: { kind: ring, steps: 2 }, outputs: { 0: h0 } }";
    const pin = row(rate({ boards }), "discharge pin");
    expect(pin.value).toBeCloseTo(8 / (950 + 800) + 12 / 950, 9);
    expect(pin).toMatchObject({ limit: 0.015, verdict: "over" });
    const inRa = row(rate({ boards: boards.replace("in: rb", "in: ra") }), "discharge pin");
    expect(inRa.value).toBeCloseTo(8 / 950 + 12 / (950 + 800), 9);
  });

  test("capacitor voltage where it is given, at the supply", () => {
    const rows = (volts: string): Rating[] =>
      rate({ boards: `b: { timer: { kind: astable, ra: 100k, rb: 100k, c: { value: 100 uF, leakage: 0${volts} } }, counter: { kind: ring, steps: 2 }, outputs: { 0: h0 } }` });
    expect(row(rows(", volts: 10 V"), "capacitor voltage")).toMatchObject({ value: 12, limit: 10, verdict: "over" });
    expect(row(rows(", volts: 16 V"), "capacitor voltage").verdict).toBe("within");
    expect(rows("").some(({ what }) => what === "capacitor voltage")).toBe(false);
  });
});
