/** lampdrift as a library: read a scenario, simulate it, compute its figures. */
export * from "./browser.js";
export { readScenario, type Reading, type ReadOptions } from "./scenario/file.js";
export { threads } from "./crew/threads.js";
export { spread, type Spread } from "./spread/index.js";
export type { GatherOptions } from "./spread/gather.js";
export type { BoardSpread, Kept, PromiseSpread } from "./spread/summary.js";
export type { Extremes, StepSources } from "./builds/sources.js";
export type { Quantiles } from "./statistics/quantiles.js";
export { compareAlternatives, type CompareOptions, type Comparison, type Difference, type Drawn, type AgainstFirst, type PairedDifference } from "./compare/index.js";
