/** What could be wrong with a display, from what is seen of it. */
export { contradiction } from "./clash.js";
export { diagnose, type Candidate, type Diagnosis } from "./diagnose.js";
export { Drill } from "./drill.js";
export { faultTable, type FaultGroup, type FaultTable } from "./groups.js";
export type { Fault } from "./kinds.js";
export { houseName } from "../model/housename.js";
export { meantBy, unclear } from "./names.js";
export { seenBy, type NextLook } from "./next.js";
export { housesOf, tellingHouses, type Observation } from "./observations.js";
export { seenInWords } from "./seeninwords.js";
