/** All quantities a scenario can contain. */
export { drift } from "./drift.js";
export { duration } from "./duration.js";
export { amps, farads, ohms, volts, watts } from "./electrical.js";
export { metres } from "./length.js";
export { ratio } from "./relative.js";
export { celsius, kelvins, tempco, thermalResistance } from "./thermal.js";
