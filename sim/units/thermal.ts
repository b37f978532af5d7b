import { SHARE_UNITS } from "./relative.js";
import { scaledQuantity } from "./scaled.js";

/** Degrees Celsius as people write them; U+2103 is the one-character form. */
const DEGREES = ["°C", "C", "\u2103"];

/** Temperature in degrees Celsius. */
export const celsius = scaledQuantity({
  name: "temperature",
  accepted: 'a temperature such as "21 °C", "21 C" or a number of degrees Celsius',
  signed: true,
  units: new Map(["", ...DEGREES].map((unit) => [unit, 0])),
  ladder: [{ from: 0, unit: "°C", power: 0 }],
});

/** Temperature difference in kelvin. */
export const kelvins = scaledQuantity({
  name: "temperature difference",
  accepted: 'a temperature difference such as "2 K", "2 °C" or a number of kelvins',
  signed: true,
  units: new Map(["", "K", ...DEGREES].map((unit) => [unit, 0])),
  ladder: [{ from: 0, unit: "K", power: 0 }],
});

/** Relative change per kelvin. */
export const tempco = scaledQuantity({
  name: "temperature coefficient",
  accepted: 'a temperature coefficient such as "100 ppm/K", "-0.02 %/K" or a number per kelvin',
  signed: true,
  units: new Map([
    ["", 0],
    ...[...SHARE_UNITS].flatMap(([share, power]) =>
      ["K", ...DEGREES].map((degree): [string, number] => [`${share}/${degree}`, power])),
  ]),
  ladder: [
    { from: 1e-3, unit: "%/K", power: -2 },
    { from: 0, unit: "ppm/K", power: -6 },
  ],
});

/** Thermal resistance in kelvin per watt. */
export const thermalResistance = scaledQuantity({
  name: "thermal resistance",
  accepted: 'a thermal resistance such as "55 K/W", "55 °C/W" or a number of kelvins per watt',
  signed: false,
  units: new Map([["", 0], ...["K", ...DEGREES].map((degree): [string, number] => [`${degree}/W`, 0])]),
  ladder: [{ from: 0, unit: "K/W", power: 0 }],
});
