import { expect, test } from "vitest";
import { killWriting } from "../fuzz/kills.js";

/* A few of what `npm run fuzz -- --kills` does by the hundred. */
test("whenever a program is ended that writes, what it leaves is whole, and the next one cleans up: twenty kills", async () => {
  expect((await killWriting(20, "gull")).faults).toEqual([]);
});
