import { scaledQuantity, type Units } from "./scaled.js";

/** Ways to write a share, with and without a unit. */
export const SHARE_UNITS: Units = new Map([["", 0], ["%", -2], ["‰", -3], ["ppm", -6]]);

/** A dimensionless share; 1 is the whole. */
export const ratio = scaledQuantity({
  name: "share",
  accepted: 'a share such as "0.1 %", "50 ppm" or a number (0.5 is one half)',
  signed: true,
  units: SHARE_UNITS,
  ladder: [
    { from: 1e-4, unit: "%", power: -2 },
    { from: 0, unit: "ppm", power: -6 },
  ],
});
