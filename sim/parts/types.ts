import type { PartType } from "../scenario/model.js";

/** A published or customary figure with where it comes from; null where no figure could be found. */
export interface Sourced {
  readonly value: number | null;
  readonly source: string;
}

/** What a part's type says about it when the scenario does not. Tolerance as a share, tempco per kelvin. */
export interface PartDefaults {
  readonly tolerance: Sourced;
  readonly tempco: Sourced;
}

const unknownTempco = (why: string): Sourced => ({ value: null, source: why });

export const PART_TYPES: Readonly<Record<PartType, PartDefaults>> = {
  carbon: {
    tolerance: { value: 0.05, source: "carbon film, gold band; common practice, no source" },
    tempco: unknownTempco("no published figure used for carbon film; give tempco where the room swings"),
  },
  metal: {
    tolerance: { value: 0.01, source: "metal film, brown band; common practice, no source" },
    tempco: { value: 50e-6, source: "metal film, red band (50 ppm/K); common practice, no source" },
  },
  film: {
    tolerance: { value: 0.1, source: "film capacitor, letter K; common practice, no source" },
    tempco: unknownTempco("polypropylene falls and polyester rises with temperature; give tempco for the kind in hand"),
  },
  electrolytic: {
    tolerance: { value: 0.2, source: "Nichicon VR (UVR) series sheet: ±20 % (M) at 120 Hz, 20 °C" },
    tempco: unknownTempco("makers print no temperature coefficient; measure it, or give tempco"),
  },
  "low-leakage": {
    tolerance: { value: 0.2, source: "Nichicon KL series sheet: ±20 % (M), also ±10 % (K)" },
    tempco: unknownTempco("makers print no temperature coefficient; measure it, or give tempco"),
  },
  tantalum: {
    tolerance: { value: 0.1, source: "solid tantalum, letter K; common practice, no source" },
    tempco: unknownTempco("within ±10 % at −55 and +85 °C (maker's component characteristics page); give tempco"),
  },
};
