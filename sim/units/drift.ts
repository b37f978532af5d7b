import { divide, multiply, type Decimal } from "./decimal.js";
import { readTimeTerms } from "./duration.js";
import { quantityOf } from "./quantity.js";
import { SHARE_UNITS } from "./relative.js";
import { printScaled, readScaled } from "./scaled.js";

/**
 * Slow relative change per hour: "0.5 %/1000 h" is 0.000005.
 * A bare number would leave the time open, so only 0 may stand alone.
 */
export const drift = quantityOf({
  name: "drift",
  accepted: 'a drift such as "0.5 %/1000 h", "-200 ppm/1000 h" or 0',
  signed: true,
  read: readDrift,
  print: (value) =>
    printScaled(value, [
      { from: 1e-6, unit: "%/1000 h", power: -5 },
      { from: 0, unit: "ppm/1000 h", power: -9 },
    ]),
});

function readDrift(text: string): Decimal | null {
  const slash = text.indexOf("/");
  const change = readScaled(slash < 0 ? text : text.slice(0, slash), SHARE_UNITS);
  if (change === null) return null;
  if (slash < 0) return change.coefficient === 0n ? change : null;
  const period = text.slice(slash + 1).trim();
  const seconds = readTimeTerms(period) ?? readTimeTerms(`1 ${period}`);
  if (seconds === null || seconds.coefficient === 0n) return null;
  return divide(multiply(change, 3_600n), seconds);
}
