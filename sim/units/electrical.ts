import { parseDecimal, shift, type Decimal } from "./decimal.js";
import { PREFIXES, scaledQuantity, unitsWith } from "./scaled.js";

/** U+03A9, the letter, and U+2126, the sign, look alike and are both in use. */
const OHM_SYMBOLS = ["Ω", "\u2126", "ohm", "ohms", "Ohm", "Ohms", "R"];

/**
 * A reader of IEC 60062 value codes, in which a letter stands at the decimal point: 4k7, R47, 2n2. The unit may follow.
 * `powers`: the code letters, each with its power of ten.
 */
function codeReader(powers: Readonly<Record<string, number>>, symbols: readonly string[]): (text: string) => Decimal | null {
  const code = new RegExp(`^(\\d*)([${Object.keys(powers).join("")}])(\\d+)\\s*(?:${symbols.join("|")})?$`);
  return (text) => {
    const [, whole = "", letter = "", fraction = ""] = code.exec(text) ?? [];
    const decimal = parseDecimal(`${whole}.${fraction}`);
    return decimal === null ? null : shift(decimal, powers[letter] ?? 0);
  };
}

function powersOf(prefixes: string): Record<string, number> {
  return Object.fromEntries(Array.from(prefixes).map((prefix) => [prefix, PREFIXES[prefix] ?? 0]));
}

/** Resistance in ohm. */
export const ohms = scaledQuantity({
  name: "resistance",
  accepted: 'a resistance such as "4.7 kΩ", "4k7", "470R" or a number of ohms',
  signed: false,
  units: unitsWith("uµμmkKMG", ["", ...OHM_SYMBOLS, "r"]),
  coded: codeReader({ R: 0, r: 0, ...powersOf("mkKMG") }, OHM_SYMBOLS),
  ladder: [
    { from: 1e9, unit: "GΩ", power: 9 },
    { from: 1e6, unit: "MΩ", power: 6 },
    { from: 1e3, unit: "kΩ", power: 3 },
    { from: 0, unit: "Ω", power: 0 },
  ],
});

/** Capacitance in farad. Printed in µF up to 0.1 F, as parts are labelled. */
export const farads = scaledQuantity({
  name: "capacitance",
  accepted: 'a capacitance such as "470 uF", "100 nF", "4n7" or a number of farads',
  signed: false,
  units: unitsWith("pnuµμm", ["", "F"]),
  coded: codeReader({ F: 0, ...powersOf("pnuµμm") }, ["F"]),
  ladder: [
    { from: 0.1, unit: "F", power: 0 },
    { from: 1e-6, unit: "µF", power: -6 },
    { from: 1e-9, unit: "nF", power: -9 },
    { from: 0, unit: "pF", power: -12 },
  ],
});

/** Voltage in volt. */
export const volts = scaledQuantity({
  name: "voltage",
  accepted: 'a voltage such as "12 V", "850 mV" or a number of volts',
  signed: true,
  units: unitsWith("nuµμmk", ["", "V", "volt", "volts"]),
  ladder: [
    { from: 1e3, unit: "kV", power: 3 },
    { from: 1, unit: "V", power: 0 },
    { from: 1e-3, unit: "mV", power: -3 },
    { from: 0, unit: "µV", power: -6 },
  ],
});

/** Current in ampere. */
export const amps = scaledQuantity({
  name: "current",
  accepted: 'a current such as "20 mA", "0.5 uA" or a number of amperes',
  signed: true,
  units: unitsWith("pnuµμmk", ["", "A", "amp", "amps"]),
  ladder: [
    { from: 1, unit: "A", power: 0 },
    { from: 1e-3, unit: "mA", power: -3 },
    { from: 1e-6, unit: "µA", power: -6 },
    { from: 1e-9, unit: "nA", power: -9 },
    { from: 0, unit: "pA", power: -12 },
  ],
});

/** Power in watt. */
export const watts = scaledQuantity({
  name: "power",
  accepted: 'a power such as "0.5 W", "250 mW" or a number of watts',
  signed: true,
  units: unitsWith("nuµμmkM", ["", "W", "watt", "watts"]),
  ladder: [
    { from: 1e3, unit: "kW", power: 3 },
    { from: 1, unit: "W", power: 0 },
    { from: 1e-3, unit: "mW", power: -3 },
    { from: 0, unit: "µW", power: -6 },
  ],
});
