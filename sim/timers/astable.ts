/**
 * Times of an astable RC timer of the 555 type, thresholds at one and two thirds of the supply. The capacitor charges
 * through R1 = Ra + Rb and discharges through R2 = Rb; a constant current `amps` (capacitor leakage plus the
 * chip's threshold current) is drawn from the capacitor all the time. Ohms, farads, volts, amperes; seconds out.
 * Without that current these are the datasheet's tH = ln 2·(RA + RB)·C and tL = ln 2·RB·C
 * (TI NE/NA/SE555, SLFS022I, 8.3.2, which prints 0.693 for ln 2). Infinity: the threshold is never reached.
 */

/** Time from one third to two thirds of the supply. */
export function highTime(volts: number, r1: number, c: number, amps: number): number {
  if (amps === 0) return Math.LN2 * r1 * c;
  const final = volts - amps * r1;
  if (stalls(volts, r1, amps)) return Infinity;
  return r1 * c * Math.log((final - volts / 3) / (final - (2 * volts) / 3));
}

/** Time from two thirds back to one third of the supply, through R2. */
export function lowTime(volts: number, r2: number, c: number, amps: number): number {
  if (amps === 0) return Math.LN2 * r2 * c;
  return r2 * c * Math.log(((2 * volts) / 3 + amps * r2) / (volts / 3 + amps * r2));
}

/**
 * The first high time after switch-on, from what is `left` on the capacitor (volts; nothing when it was empty) to two
 * thirds: ln 3·R1·C from empty and without leakage.
 */
export function firstHighTime(volts: number, r1: number, c: number, amps: number, left = 0): number {
  if (amps === 0 && left === 0) return LN3 * r1 * c;
  const final = volts - amps * r1;
  if (stalls(volts, r1, amps)) return Infinity;
  const threshold = (2 * volts) / 3;
  return left >= threshold ? 0 : r1 * c * Math.log((final - left) / (final - threshold));
}

/** True when the current keeps the capacitor below two thirds for ever: I·R1 ≥ V/3. */
export function stalls(volts: number, r1: number, amps: number): boolean {
  return volts - amps * r1 <= (2 * volts) / 3;
}

const LN3 = Math.log(3);
