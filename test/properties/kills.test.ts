import { expect, test } from "vitest";
import { endCommands } from "../fuzz/ends.js";
import { killWriting } from "../fuzz/kills.js";
import { often } from "../thorough.js";

/* A few of what `npm run fuzz -- --kills` does by the hundred. */
test("whenever a command is ended, what it leaves is the old or the new, or what the next one finishes, end after end", async () => {
  // most often those that are soon at an end
  const names = ["new", "export", "new", "export", "new", "export", "fit --picture", "tune --write", "cards", "report"];
  expect((await endCommands(often(6, 40), "gull", names)).faults).toEqual([]);
});

test("whenever a program is ended that does nothing but write, what it leaves is whole, and the next one cleans up: four ends", async () => {
  expect((await killWriting(4, "gull")).faults).toEqual([]);
});
