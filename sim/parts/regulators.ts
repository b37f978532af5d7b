import type { Figure } from "./figure.js";

/** Fixed linear regulator of the 78xx type in a TO-220 case. Volts, ampere, K/W, °C. */
export const FIXED_REGULATOR = {
  dropout: { value: 2, source: "7805 type, dropout 2 V typical at 1 A, 25 °C (TI LM340A, SNOSBT0L, 6.5)" },
  inputMost: { value: 35, source: "7805 type, input at most 35 V (TI LM340A, SNOSBT0L, 6.1)" },
  outMost: { value: 1, source: "7805 type, specified at 1 A, up to 1.5 A (TI LM340A, SNOSBT0L, 6.5)" },
  thermal: { value: 65, source: "TO-220 case in free air, 65 °C/W (Fairchild LM78XX rev 1.3.1, p. 2)" },
  junction: { value: 125, source: "fixed regulator, 125 °C; from memory" },
} as const satisfies Record<string, Figure>;

/** Watts turned into heat by a linear regulator that passes a current in ampere. */
export function regulatorHeat(input: number, out: number, amps: number): number {
  return (input - out) * amps;
}

/** Watts that a part may turn into heat when the air around it has `theta` °C. */
export function heatLimit(junction: number, thermal: number, theta: number): number {
  return (junction - theta) / thermal;
}
