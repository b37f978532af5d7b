import { expect, test } from "vitest";
import { DAY, HOUR, toMicros, toSeconds, type Micros, type Seconds } from "../../sim/units/time.js";

test("a second is a million microseconds, a day 24 hours of 3600 s, and whole microseconds come back as they were", () => {
  expect(toSeconds(HOUR)).toBe(3600);
  expect(toSeconds(DAY)).toBe(86_400);
  for (const micros of [1, 999_999, 86_400_000_001]) expect(toMicros(toSeconds(micros))).toBe(micros);
});

test("seconds in place of microseconds do not compile, nor the other way round", () => {
  const seconds: Seconds = 1;
  // @ts-expect-error: seconds are no microseconds
  const micros: Micros = seconds;
  // @ts-expect-error: microseconds are no seconds
  expect(toMicros(micros)).toBe(1_000_000);
});
