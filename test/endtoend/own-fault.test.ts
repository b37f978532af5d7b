import { EventEmitter } from "node:events";
import { Readable, Writable } from "node:stream";
import { expect, test } from "vitest";
import { main } from "../../reports/main.js";

test("a fault of the program's own: status 3, what it was and where it was met on standard error", async () => {
  const told: string[] = [];
  const stderr = new Writable({
    decodeStrings: false,
    write(text: string, _encoding, done) {
      told.push(text);
      done();
    },
  });
  const stdout = Object.assign(new Writable(), {
    write(): never {
      throw new TypeError("nothing that a file or an argument can cause");
    },
  });
  const keys = new EventEmitter();
  const io = { stdin: Readable.from([]), stdout, stderr, once: keys.once.bind(keys), off: keys.off.bind(keys) };
  expect(await main(["check", "scenarios/twin-boards.yaml"], io)).toBe(3);
  const [first, ...stack] = told.join("").trimEnd().split("\n");
  expect(first).toBe("lampdrift has met a fault of its own: TypeError: nothing that a file or an argument can cause");
  expect(stack.length).toBeGreaterThan(0);
  for (const line of stack) expect(line).toMatch(/^ +at /);
});
