import type { PartType } from "../model/timer.js";
import type { Figure, Sourced } from "./figure.js";

/** What a part's type says about it when the scenario does not. Tolerance as a share, tempco per kelvin. */
export interface PartDefaults {
  readonly tolerance: Sourced;
  readonly tempco: Sourced;
  /** Largest change per kelvin either way, for planning: what a part may do whose tempco nobody prints. */
  readonly warmth: Figure;
}

const unknownTempco = (why: string): Sourced => ({ value: null, source: why });

/** Share of capacitance per kelvin: about −4 % at 0 °C against 25 °C. */
const ALUMINIUM_WARMTH: Figure = { value: 2000e-6, source: "aluminium electrolytic, some 5 % from 0 to 25 °C; from memory" };

/** Resistors by their film, capacitors by their dielectric. */
export const PART_TYPES: Readonly<Record<PartType, PartDefaults>> = {
  carbon: {
    tolerance: { value: 0.05, source: "carbon film, gold band; common practice, no source" },
    tempco: unknownTempco("no published figure used for carbon film; give tempco where the room swings"),
    warmth: { value: 500e-6, source: "carbon film; from memory" },
  },
  metal: {
    tolerance: { value: 0.01, source: "metal film, brown band; common practice, no source" },
    tempco: { value: 50e-6, source: "metal film, red band (50 ppm/K); common practice, no source" },
    warmth: { value: 50e-6, source: "metal film, red band (50 ppm/K); common practice, no source" },
  },
  film: {
    tolerance: { value: 0.1, source: "film capacitor, letter K; common practice, no source" },
    tempco: unknownTempco("polypropylene falls and polyester rises with temperature; give tempco for the kind in hand"),
    warmth: { value: 400e-6, source: "polyester +400 ppm/K, polypropylene less and falling; from memory" },
  },
  electrolytic: {
    tolerance: { value: 0.2, source: "Nichicon VR (UVR) series sheet: ±20 % (M) at 120 Hz, 20 °C" },
    tempco: unknownTempco("makers print no temperature coefficient; measure it, or give tempco"),
    warmth: ALUMINIUM_WARMTH,
  },
  "low-leakage": {
    tolerance: { value: 0.2, source: "Nichicon KL series sheet: ±20 % (M), also ±10 % (K)" },
    tempco: unknownTempco("makers print no temperature coefficient; measure it, or give tempco"),
    warmth: ALUMINIUM_WARMTH,
  },
  tantalum: {
    tolerance: { value: 0.1, source: "solid tantalum, letter K; common practice, no source" },
    tempco: unknownTempco("within ±10 % at −55 and +85 °C (maker's component characteristics page); give tempco"),
    warmth: { value: 0.1 / 60, source: "10 % at 85 °C, so 10 % in 60 K (tantalum maker's component characteristics page)" },
  },
};

/** A trimmer as it is sold: tolerance of its track, and change of the track per kelvin either way. */
export const TRIMMER: { readonly tolerance: Figure; readonly warmth: Figure } = {
  tolerance: { value: 0.2, source: "trimmer, ±20 %; common practice, no source" },
  warmth: { value: 100e-6, source: "cermet track, 100 ppm/K; common practice, no source" },
};
