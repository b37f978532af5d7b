/** What is published about timer chips of the 555 type, as far as the step time depends on it. */
export interface TimerChip {
  readonly name: string;
  /** Current into the threshold pin, ampere, typical. */
  readonly threshold: number;
  /** Largest initial timing error of an astable, share. */
  readonly error: number;
  /** Typical temperature drift of an astable, per kelvin. */
  readonly tempco: number;
  readonly sources: { readonly threshold: string; readonly error: string; readonly tempco: string };
}

export const TIMER_CHIPS: Readonly<Record<"bipolar" | "cmos", TimerChip>> = {
  bipolar: {
    name: "bipolar timer of the 555 type",
    threshold: 30e-9,
    // TI prints 2.25 % typical and no maximum; the only published maximum seen is Philips' 13 %
    error: 0.13,
    tempco: 150e-6,
    sources: {
      threshold: "TI NE555, SLFS022A, p. 4: 30 nA typical",
      error: "Philips NE/SA/SE555 product data, 14 Feb 2003, p. 4: astable 13 % maximum",
      tempco: "TI NE555, SLFS022I, 7.5: astable 150 ppm/°C typical",
    },
  },
  cmos: {
    name: "CMOS timer of the 555 type",
    threshold: 10e-12,
    error: 0.05,
    tempco: 75e-6,
    sources: {
      threshold: "TI TLC555, SLFS043C, p. 8-9: 10 pA typical at 25 °C",
      error: "Philips ICM7555, 31 Aug 1994, p. 339: astable 5 % maximum",
      tempco: "TI LMC555, SNAS558N, 5.6: 75 ppm/°C",
    },
  },
};
