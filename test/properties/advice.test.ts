import { greatest } from "d3-array";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { simulate } from "../../sim/engine/simulate.js";
import { figures } from "../../sim/figures/index.js";
import { repeatAfter } from "../../sim/figures/repeat.js";
import { timeline } from "../../sim/figures/timeline.js";
import { echoesInWords, fiveSentences } from "../../reports/sentences.js";
import { advise, type Advice } from "../../sim/planning/advice.js";
import { otherStepAdvice } from "../../sim/planning/othersteps.js";
import { apartToVanish, stepsApart, togetherShare } from "../../sim/planning/together.js";
import { parseScenario } from "../../sim/scenario/read.js";
import type { Scenario } from "../../sim/model/scenario.js";
import { often } from "../thorough.js";

interface Ring {
  readonly timer: string;
  readonly steps: number;
}

/** Rings b0, b1 … that share no house. */
function display(boards: readonly Ring[], rest = "opening: { overnight: on, run: 10 }"): Scenario {
  const houses = boards.flatMap(({ steps }, b) => Array.from({ length: steps }, (_, s) => `  h${b}x${s}:`));
  const lines = boards.map(({ timer, steps }, b) => {
    const outputs = Array.from({ length: steps }, (_, s) => `${s}: h${b}x${s}`);
    return `  b${b}: { timer: { ${timer} }, counter: { kind: ring, steps: ${steps} }, outputs: { ${outputs.join(", ")} } }`;
  });
  return parseScenario(["lampdrift: 1", "title: Advice", rest, "houses:", ...houses, "boards:", ...lines].join("\n"), "advice.yaml");
}

const quartz = (step: number, extra = ""): string => `kind: quartz, step: ${step} s${extra}`;

function adviceFor(scenario: Scenario): Advice[] {
  const record = simulate(scenario);
  return advise(record, figures(record));
}

function ofKind<K extends Advice["kind"]>(advice: readonly Advice[], kind: K): Extract<Advice, { kind: K }>[] {
  return advice.filter((one): one is Extract<Advice, { kind: K }> => one.kind === kind);
}

describe("two boards that come round nearly together", () => {
  const steps = fc.record({ a: fc.double({ min: 5, max: 500, noNaN: true }), b: fc.double({ min: 5, max: 500, noNaN: true }) });

  test("are both back for the largest product of their shares", () => {
    fc.assert(
      fc.property(steps, fc.double({ min: 0, max: 1.2, noNaN: true }), ({ a, b }, share) => {
        const apart = share * (a + b);
        let most = 0;
        for (let i = -200; i <= 1200; i++) {
          const after = (i / 1000) * apart;
          most = Math.max(most, Math.max(0, 1 - Math.abs(after) / a) * Math.max(0, 1 - Math.abs(apart - after) / b));
        }
        const found = togetherShare(a, b, apart);
        expect(found).toBeGreaterThanOrEqual(most - 1e-12);
        // The product bends by at most apart²/(a·b) between two of the points looked at
        expect(found - most).toBeLessThanOrEqual(((apart / 1000) * Math.max(1 / a, 1 / b)) + 1e-12);
      }),
      { seed: 11, numRuns: often(30, 100) },
    );
  });

  test("are an echo no more from a + b − √(a·b) on, or 3/4 of a much longer step: one step where steps are equal", () => {
    fc.assert(
      fc.property(steps, ({ a, b }) => {
        const needed = apartToVanish(a, b);
        expect(togetherShare(a, b, needed)).toBeCloseTo(0.25, 10);
        expect(needed).toBeGreaterThanOrEqual(0.75 * Math.max(a, b) * (1 - 1e-12));
        expect(needed).toBeLessThanOrEqual(Math.max(a, b) * (1 + 1e-12));
        expect(apartToVanish(a, a)).toBeCloseTo(a, 10);
      }),
      { seed: 12, numRuns: often(30, 100) },
    );
  });

  test("are that far apart with the step times found", () => {
    const ratios: number[] = [];
    fc.assert(
      fc.property(steps, fc.integer({ min: 2, max: 60 }), fc.integer({ min: 2, max: 60 }), ({ b }, units, otherUnits) => {
        const { atMost, atLeast } = stepsApart(units, b, otherUnits * b);
        expect(atMost).toBeGreaterThan(0);
        expect(otherUnits * b - units * atMost).toBeCloseTo(apartToVanish(atMost, b), 6);
        expect(units * atLeast - otherUnits * b).toBeCloseTo(apartToVanish(atLeast, b), 6);
        ratios.push(atMost / b, atLeast / b);
      }),
      { seed: 13, numRuns: often(30, 100) },
    );
    // All three cases were met
    expect(ratios.some((ratio) => ratio < 1 / 4) && ratios.some((ratio) => ratio > 4) && ratios.some((ratio) => ratio > 1 / 2 && ratio < 2)).toBe(true);
  });
});

describe("advice on echoes", () => {
  /** The most that the same scene is met at any return about as long as the rounds named. */
  function strongest(scenario: Scenario, around: number, step: number): number {
    const line = timeline(simulate(scenario));
    const shares = new Map<number, number>();
    const highest = (from: number, to: number, by: number): number => {
      for (let after = from; after <= to; after += by) shares.set(after, repeatAfter(line, after * 1e6)!);
      return greatest([...shares.keys()], (after) => shares.get(after)!)!;
    };
    // every twelfth of a step, then second by second around the highest: between two steps the share rises and falls once
    const by = Math.floor(step / 12);
    const near = highest(around - 2 * step, around + 2 * step, by);
    return shares.get(highest(near - by, near + by, 1))!;
  }

  // The simulated rings meet in all phases but not quite equally often: within 0.01
  test.each<[string, [number, number], [number, number]]>([
    ["equal boards", [100, 8], [101.3, 8]],
    ["a round of one, two of the other", [97, 12], [73.7, 8]],
    ["unequal steps", [150.9, 4], [60, 10]],
  ])("names step times from which on there is none: %s", (_, [stepA, stepsA], [stepB, stepsB]) => {
    const near = (step: number): Scenario => display([{ timer: quartz(stepA), steps: stepsA }, { timer: quartz(step), steps: stepsB }]);
    const [first, ...others] = ofKind(adviceFor(near(stepB)), "echo");
    expect(others).toEqual([]);
    const [a, b] = first!.pair!.boards;
    expect([a.id, b.id, a.clock, b.clock]).toEqual(["b0", "b1", "b0", "b1"]);
    expect(first!.pair!.apartSeconds).toBeCloseTo(Math.abs(a.rounds * stepA * stepsA - b.rounds * stepB * stepsB), 5);
    expect(Math.abs(first!.afterSeconds - a.rounds * stepA * stepsA)).toBeLessThan(stepA);

    const round = a.rounds * stepA * stepsA;
    const { atMost, atLeast } = b.vanishes;
    expect(atMost).toBeLessThan(stepB);
    expect(atLeast).toBeGreaterThan(stepB);
    for (const step of [atMost, atLeast]) expect(Math.abs(strongest(near(step), round, stepA) - 0.25), `step ${step}`).toBeLessThan(0.01);
    // A fiftieth further away, and nearer
    const away = (atLeast - atMost) / 50;
    for (const step of [atMost - away, atLeast + away]) expect(strongest(near(step), round, stepA), `step ${step}`).toBeLessThan(0.25);
    for (const step of [atMost + away, atLeast - away]) expect(strongest(near(step), round, stepA), `step ${step}`).toBeGreaterThan(0.25);
  });

  test("judges other step times by the whole curve: where one is named, the worst return and the mean are lower with it", () => {
    const worstAndMean = (scenario: Scenario): [number, number] => {
      const curve = figures(simulate(scenario)).repeat.curve.map(({ share }) => share!);
      let fall = 1;
      while (fall < curve.length && curve[fall]! <= curve[fall - 1]!) fall++;
      return [Math.max(0, ...curve.slice(fall)), curve.reduce((sum, share) => sum + share, 0) / curve.length];
    };
    const told = { better: 0, none: 0 };
    const board = fc.record({ step: fc.integer({ min: 40, max: 200 }), steps: fc.integer({ min: 3, max: 9 }) });
    fc.assert(
      fc.property(board, board, (a, b) => {
        const near = (steps: ReadonlyMap<string, number>): Scenario =>
          display([a, b].map(({ step, steps: n }, i) => ({ timer: `kind: measured, step: ${steps.get(`b${i}`) ?? step} s`, steps: n })), "opening: { overnight: on, run: 2 }");
        const advice = adviceFor(near(new Map()));
        const [other] = ofKind(advice, "other-step");
        if (ofKind(advice, "no-other-step").length > 0) told.none++;
        if (other === undefined) return;
        told.better++;
        const before = worstAndMean(near(new Map()));
        const after = worstAndMean(near(new Map([[other.board, other.stepSeconds]])));
        // the whole run against the beginning of it, which was simulated
        expect(after[0]).toBeLessThan(before[0]);
        expect(after[0]).toBeCloseTo(other.worst.after, 1);
        expect(after[1]).toBeLessThan(before[1] + 0.002);
        expect(other.text).toContain(`With the step of ${other.board} at `);
      }),
      { seed: 13, numRuns: often(8, 60) },
    );
    expect(told.better).toBeGreaterThan(0);
  });

  test("says when no other step time helps, and what would", () => {
    // two rings of two: whatever the steps, both are back for a good part of the time again and again
    const two = display([{ timer: quartz(100), steps: 2 }, { timer: quartz(101), steps: 2 }]);
    const [none, ...others] = otherStepAdvice(simulate(two), ["b0", "b1"]);
    expect(others).toEqual([]);
    expect(none!.kind).toBe("no-other-step");
    expect(none!.text).toMatch(/No step time of b0 or b1.*A board more.*counters with other numbers of steps/);
  });

  test("names the timer at the head of a chain of carries, and its step time", () => {
    // The clock lights nothing; "slow" comes round every 4·5·25 s = 500 s, "other" every 8·63 s = 504 s
    const scenario = parseScenario(
      `{ lampdrift: 1, title: Chain, opening: { overnight: on, run: 3 }, houses: { a: , b: , c: , d: , e: , f: , g: , h: }, boards: {
        clock: { timer: { kind: quartz, step: 25 s }, counter: { kind: ring, steps: 4 }, outputs: {} },
        slow: { timer: { kind: carry, from: clock }, counter: { kind: ring, steps: 5 }, outputs: { 0: a, 1: b, 2: c, 3: d } },
        other: { timer: { kind: quartz, step: 63 s }, counter: { kind: ring, steps: 8 }, outputs: { 0: e, 1: f, 2: g, 3: h, 4: [e, f], 5: [f, g], 6: [g, h] } } } }`,
      "chain.yaml",
    );
    const [echo] = ofKind(adviceFor(scenario), "echo");
    const [slow, other] = echo!.pair!.boards;
    expect(slow).toMatchObject({ id: "slow", clock: "clock", clockStepSeconds: 25, rounds: 1 });
    expect(other).toMatchObject({ id: "other", clock: "other", clockStepSeconds: 63, rounds: 1 });
    for (const step of [slow.vanishes.atMost, slow.vanishes.atLeast]) {
      expect(Math.abs(20 * step - 504)).toBeCloseTo(apartToVanish(4 * step, 63), 6);
    }
  });

  test("one clock for all boards: nothing to move apart", () => {
    const advice = adviceFor(display([{ timer: quartz(50), steps: 4 }, { timer: "kind: carry, from: b0", steps: 3 }]));
    expect(ofKind(advice, "echo")).toEqual([]);
    expect(ofKind(advice, "one-clock")).toEqual([
      {
        kind: "one-clock",
        board: "b0",
        afterSeconds: 600,
        text:
          "A visitor who comes back after 10 min meets the same scene 100 % of the time. Every board hangs on the timer of b0, " +
          "so they always come round together: a second board with a timer of its own would change that.",
      },
    ]);
  });

  test("an echo that no two boards account for is told without a remedy", () => {
    const scenario = parseScenario(
      `{ lampdrift: 1, title: Same twice, opening: { overnight: on }, houses: { a: , b: , c: }, boards: {
        x: { timer: { kind: quartz, step: 100 s }, counter: { kind: ring, steps: 4 }, outputs: { 0: a, 1: b, 2: a, 3: b } },
        y: { timer: { kind: quartz, step: 50 min }, counter: { kind: ring, steps: 2 }, outputs: { 0: c } } } }`,
      "twice.yaml",
    );
    const [echo, ...others] = ofKind(adviceFor(scenario), "echo");
    expect(others).toEqual([]);
    expect(echo).toMatchObject({ afterSeconds: 195, pair: null });
    expect(echo!.text).toMatch(/^A visitor who comes back after 3 min 15 s meets the same scene \S+ % of the time\.$/);
  });
});

describe("other advice", () => {
  const closedAtNight = 'opening: { from: "10:00", until: "17:00", run: 30 }';
  const kinds = (scenario: Scenario): string[] => adviceFor(scenario).map(({ kind }) => kind);

  test("nothing to say about boards that are well apart and run day and night", () => {
    expect(kinds(display([{ timer: quartz(173), steps: 10 }, { timer: quartz(131), steps: 11 }, { timer: quartz(223.7), steps: 9 }]))).toEqual([]);
  });

  test("every day the same, when all boards are exact and switched on in the morning", () => {
    const boards = [{ timer: quartz(173), steps: 10 }, { timer: quartz(131), steps: 11 }];
    const [same] = ofKind(adviceFor(display(boards, closedAtNight)), "same-days");
    // a quartz has no jitter to speak of
    expect(same).toMatchObject({ firstHourShare: 1, restShare: 1, share: 1, jittered: null });
    expect(same!.text).toMatch(/exactly what the day before showed.*restart each morning and no jitter given.*`overnight: on`.*`powerUp: anywhere`/);
    expect(ofKind(adviceFor(display(boards)), "same-days")).toEqual([]);
    // Cycles that fit into a day do the same without a night off
    const fitting = [{ timer: quartz(180), steps: 10 }, { timer: quartz(135), steps: 8 }];
    expect(ofKind(adviceFor(display(fitting)), "same-days")[0]!.text).toContain("cycles fit into a day");
  });

  test("what a little jitter would leave of equal days is what a display with that jitter has", () => {
    const boards = (jitter: string): Ring[] => [
      { timer: `kind: measured, step: 100 s${jitter}`, steps: 4 },
      { timer: `kind: measured, step: 70 s${jitter}`, steps: 5 },
    ];
    const plain = display(boards(""), closedAtNight);
    const jittering = display(boards(", jitter: 0.3 %"), closedAtNight);
    const [same] = ofKind(adviceFor(plain), "same-days");
    const { firstHourShare, restShare } = ofKind(adviceFor(jittering), "same-days")[0]!;
    // the first hour is one of seven
    expect(same!.jittered).toBeCloseTo((firstHourShare + 6 * restShare) / 7, 9);
    expect(ofKind(adviceFor(jittering), "same-days")[0]).toMatchObject({ jittered: null });
    expect(ofKind(adviceFor(jittering), "same-days")[0]!.text).toContain("the jitter that is given");
  });

  test("days that begin alike, when boards wander", () => {
    const wandering = (opening: string): Advice[] =>
      adviceFor(display([{ timer: quartz(173, ", jitter: 3 %"), steps: 10 }, { timer: quartz(131, ", jitter: 3 %"), steps: 11 }], opening));
    const [start] = ofKind(wandering(closedAtNight), "day-start");
    expect(start!.firstHourShare).toBeGreaterThan(start!.restShare + 0.1);
    expect(ofKind(wandering('opening: { from: "10:00", until: "17:00", run: 30, overnight: on }'), "day-start")).toEqual([]);
  });

  test("few scenes, and scenes that boards in step never show", () => {
    const advice = adviceFor(display([{ timer: quartz(100), steps: 6 }, { timer: quartz(100), steps: 6 }]));
    expect(ofKind(advice, "few-scenes")[0]!.effective).toBeCloseTo(6, 9);
    expect(ofKind(advice, "unused-scenes")).toMatchObject([{ distinct: 6, combinations: 36 }]);
  });

  test("a scene that comes back during a visit", () => {
    const chaser = display([{ timer: quartz(10), steps: 5 }], "opening: { overnight: on, run: 2 }\nvisitors: { stay: 40 s }");
    expect(ofKind(adviceFor(chaser), "repeat-in-stay")).toEqual([]);
    const longer = display([{ timer: quartz(10), steps: 5 }], "opening: { overnight: on, run: 2 }\nvisitors: { stay: 44 s }");
    expect(ofKind(adviceFor(longer), "repeat-in-stay")).toMatchObject([{ staySeconds: 44, share: expect.closeTo(0.4, 3) as number }]);
  });
});

describe("sentences", () => {
  const said = (scenario: Scenario): string => {
    const found = figures(simulate(scenario));
    return [...fiveSentences(found, scenario), ...echoesInWords(found.repeat)].join("\n");
  };

  test("tell the figures in words", () => {
    const scenario = display(
      [{ timer: quartz(100), steps: 6 }],
      'opening: { from: "10:00", until: "16:00", run: 5 }\nvisitors: { stay: 5 min, returns: [10 min, 650 s] }',
    );
    expect(said(scenario)).toBe(
      [
        "The display shows 6 different scenes, and no hour shows fewer than 6. Who looks twice, at any two moments, sees the same scene once in 6 times.",
        "The scene changes 35.8 times an hour; half of the scenes last 1 min 40 s or more, the longest 1 min 40 s.",
        "Of 6 houses 1 is lit at all times.",
        "A visitor who comes back meets the same scene 100 % of the time after 10 min and 50.1 % of the time after 10 min 50 s; by pure chance it would be 16.7 %.",
        "A visitor who stays 5 min sees 4 different scenes on average, and never sees a scene come back before leaving.",
        "There are 17 return times up to 3 h at which the same scene is met unusually often, most of all 10 min with 100 %.",
      ].join("\n"),
    );
  });

  test("say of a display that stands still that it does", () => {
    const scenario = display([{ timer: quartz(3600), steps: 2 }], 'opening: { from: "10:00", until: "10:30", run: 5 }\nvisitors: { stay: 5 min, returns: [10 min] }');
    expect(said(scenario)).toBe(
      [
        "The display shows one and the same scene all the time.",
        "The scene never changes while the display is open.",
        "Of 2 houses 1 is lit at all times. Never lit: h0x1.",
        "A visitor who comes back meets the same scene 100 % of the time after 10 min; by pure chance it would be 100 %.",
        "A visitor who stays 5 min sees one and the same scene.",
      ].join("\n"),
    );
  });

  test("say why a figure is not defined", () => {
    const scenario = display(
      [{ timer: quartz(100), steps: 6 }],
      'opening: { from: "10:00", until: "10:30", run: 5 }\nvisitors: { stay: 30 min, returns: [45 min] }',
    );
    expect(said(scenario)).toContain(
      "How often a returning visitor meets the same scene is not defined for the return times asked for: the display is never open at both moments.",
    );
    expect(said(scenario)).toContain("What a visitor sees who stays 30 min is not defined: no opening is so long.");
  });
});
