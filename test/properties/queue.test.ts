import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { EventQueue, Phase } from "../../sim/engine/queue.js";
import { often } from "../thorough.js";

interface Pending {
  readonly slot: number;
  readonly time: number;
  readonly phase: Phase;
  readonly entry: number;
}

/** What the queue should do next, kept as a list that is sorted after every change. */
class SortedList {
  private pending: Pending[] = [];
  private entered = 0;

  put(slot: number, time: number, phase: Phase): void {
    this.clear(slot);
    this.pending.push({ slot, time, phase, entry: this.entered++ });
    this.pending.sort((a, b) => a.time - b.time || a.phase - b.phase || a.entry - b.entry);
  }

  clear(slot: number): void {
    this.pending = this.pending.filter((event) => event.slot !== slot);
  }

  first(): Pending | undefined {
    return this.pending[0];
  }
}

const SLOTS = 7;
const slot = fc.nat(SLOTS - 1);
// few times, so that many events share one; and long ones, as in a run of years
const time = fc.oneof(fc.nat(3), fc.constantFrom(8.64e15, 8.64e15 + 1), fc.maxSafeNat());
const phase = fc.constantFrom(Phase.SwitchOff, Phase.SwitchOn, Phase.Pulse);
const operation = fc.oneof(
  { weight: 4, arbitrary: fc.record({ kind: fc.constant("put" as const), slot, time, phase }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant("clear" as const), slot }) },
  { weight: 3, arbitrary: fc.record({ kind: fc.constant("take" as const) }) },
);

describe("the event queue", () => {
  test("has the same event next as a sorted list, after every operation", () => {
    fc.assert(
      fc.property(fc.array(operation, { minLength: 1, maxLength: 60 }), (operations) => {
        const queue = new EventQueue(SLOTS);
        const list = new SortedList();
        for (const op of operations) {
          if (op.kind === "put") {
            queue.put(op.slot, op.time, op.phase);
            list.put(op.slot, op.time, op.phase);
          } else {
            const out = op.kind === "clear" ? op.slot : queue.next();
            queue.clear(out);
            list.clear(out);
          }
          const found = queue.next();
          const expected = list.first();
          if (expected === undefined) expect(queue.times[found]).toBe(Infinity);
          else expect([found, queue.times[found], queue.phase(found)]).toEqual([expected.slot, expected.time, expected.phase]);
        }
      }),
      { seed: 11, numRuns: often(800, 2000) },
    );
  });

  test("switches off before it switches on before it pulses, whatever was put in first", () => {
    const queue = new EventQueue(3);
    queue.put(0, 5, Phase.Pulse);
    queue.put(1, 5, Phase.SwitchOn);
    queue.put(2, 5, Phase.SwitchOff);
    const order = [0, 1, 2].map(() => {
      const next = queue.next();
      queue.clear(next);
      return next;
    });
    expect(order).toEqual([2, 1, 0]);
    expect(queue.times[queue.next()]).toBe(Infinity);
  });
});
