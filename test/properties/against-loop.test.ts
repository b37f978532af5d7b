import { describe, expect, test } from "vitest";
import { randomSpec } from "../oracle/random.js";
import type { Board, Spec } from "../oracle/spec.js";
import { randomDisplay } from "./randomdisplays.js";

const seeds = Array.from({ length: 20 }, (_, i) => i + 1);

describe("the engine against a loop written by hand, on random displays", () => {
  test.each(seeds)("display %i: every spell to the microsecond, and every pulse", (seed) => {
    const { spec, shown, record } = randomDisplay(seed);
    expect(record.openings.map(({ from, until }) => ({ from, until }))).toEqual(
      shown.openings.map(({ from, until }) => ({ from, until })),
    );
    record.openings.forEach((opening, o) => {
      const spells = [];
      for (let i = opening.first; i < opening.end; i++) {
        const until = i + 1 < opening.end ? record.spellStart[i + 1]! : opening.until;
        spells.push({ from: record.spellStart[i]!, until, lit: record.scenes.lit(record.spellScene[i]!) });
      }
      expect(spells).toEqual(shown.openings[o]!.spells);
    });
    expect(record.boards.map(({ id, pulses }) => ({ id, pulses }))).toEqual(
      spec.boards.map(({ id }, b) => ({ id, pulses: shown.pulses[b]! })),
    );
  });

  test("the random displays meet what is easily got wrong", () => {
    const specs = seeds.map(randomSpec);
    const boards = specs.flatMap((spec) => spec.boards);
    const kinds = new Set(boards.flatMap((board) => [board.timer.kind, board.counter.kind]));
    expect([...kinds].sort()).toEqual(["astable", "binary", "carry", "johnson", "lfsr", "measured", "quartz", "ring", "table"]);
    const astables = boards.flatMap((board) => (board.timer.kind === "astable" ? [board.timer] : []));
    expect(astables.some((timer) => timer.divide > 1)).toBe(true);
    expect(astables.some((timer) => timer.leakage > 0)).toBe(true);
    expect(astables.some((timer) => timer.diode && timer.leakage > 0 && timer.divide > 1)).toBe(true);
    expect(astables.some((timer) => timer.diode && timer.divide === 1)).toBe(true);
    expect(astables.some((timer) => timer.trimmer?.in === "ra")).toBe(true);
    expect(astables.some((timer) => timer.trimmer?.in === "rb")).toBe(true);
    expect(boards.some((board) => board.timer.kind !== "carry" && board.timer.drift < 0)).toBe(true);
    expect(boards.some((board) => board.timer.kind !== "carry" && board.timer.drift > 0)).toBe(true);
    expect(boards.some((board) => board.counter.kind === "table" && board.counter.hold.some((factor) => factor > 1))).toBe(true);
    const follows = (spec: Spec, board: Board) => spec.boards.find((other) => board.timer.kind === "carry" && other.id === board.timer.from);
    const chained = specs.filter((spec) => spec.boards.some((board) => follows(spec, board)?.timer.kind === "carry"));
    expect(chained.length).toBeGreaterThan(0);
    expect(new Set(specs.map((spec) => spec.opening.overnight)).size).toBe(2);
    expect(specs.some((spec) => spec.room.swing > 0)).toBe(true);
    expect(specs.some(({ opening }) => opening.from === 0 && opening.until === 86400 && opening.run > 1 && !opening.overnight)).toBe(true);
    // Pulses in the very instants of opening and closing, with the boards running through.
    const onTheMinute = (board: Board) => board.timer.kind === "quartz" && board.timer.drift === 0 && board.timer.step % 60 === 0;
    expect(specs.some(({ opening, boards: own }) => opening.overnight && opening.run > 1 && own.some(onTheMinute))).toBe(true);
    const shared = specs.filter((spec) => {
      const lit = spec.boards.map((board) => new Set(board.outputs.flat()));
      return spec.houses.some((house) => lit.filter((ids) => ids.has(house.id)).length > 1);
    });
    expect(shared.length).toBeGreaterThan(0);
  });
});
