import { afterAll, expect, test } from "vitest";
import { builds } from "../../reports/live/builds.js";
import { initialState } from "../../reports/live/state.js";
import { createStore } from "../../reports/live/store.js";
import type { Embedded } from "../../reports/page/embedded.js";
import { document } from "../paper.js";

/* The page's worker, when the browser ends it: a sentence, and the button can be pressed again. */

class Gone {
  static readonly all: Gone[] = [];
  onerror: ((event: { message?: string }) => void) | null = null;
  ended = false;
  constructor() {
    Gone.all.push(this);
  }
  postMessage(): void {
    // nobody answers
  }
  terminate(): void {
    this.ended = true;
  }
}

const before = { document: globalThis.document, Worker: globalThis.Worker };
Object.assign(globalThis, { document, Worker: Gone });
afterAll(() => Object.assign(globalThis, before));

const TEXT = `{ lampdrift: 1, title: t, opening: { from: "10:00", until: "10:30", run: 1 }, houses: { a: },
  boards: { b: { timer: { kind: quartz, step: 60 s }, counter: { kind: ring, steps: 2 }, outputs: { 0: a } } } }`;

test.each([
  [{ message: "Uncaught RangeError: Array buffer allocation failed" }, "Uncaught RangeError: Array buffer allocation failed"],
  [{}, "the browser has ended the work"],
])("a worker that is gone (%j) is told in a sentence", (event, why) => {
  const root = document.createElement("div");
  builds({ version: "1", day: 1 } as Embedded, "")(root, createStore(initialState([{ file: "a.yaml", text: TEXT }], [])));
  const draw = [...root.querySelectorAll("button")].find(({ textContent }) => textContent === "Draw 200 builds")!;
  draw.click();
  expect(draw.disabled).toBe(true);
  const worker = Gone.all.at(-1)!;
  worker.onerror!(event);
  expect(root.querySelector("[role=status]")!.textContent).toBe(`The builds could not be drawn (${why}). Try again, with fewer days.`);
  expect({ ended: worker.ended, disabled: draw.disabled, bar: root.querySelector("progress")!.hidden }).toEqual({ ended: true, disabled: false, bar: true });
});
