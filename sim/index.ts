/** lampdrift as a library: read a scenario, simulate it, compute its figures. */
export * from "./browser.js";
export { readScenario } from "./scenario/file.js";
export { spread, type Spread } from "./spread/index.js";
export { compareAlternatives, type Comparison } from "./compare/index.js";
