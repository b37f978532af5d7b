/** lampdrift as a library: read a scenario, simulate it, compute its figures. */
export type { Scenario } from "./scenario/model.js";
export { parseScenario, scenarioJsonSchema } from "./scenario/read.js";
export { readScenario } from "./scenario/file.js";
export { ScenarioError, type Problem } from "./scenario/problems.js";
export { simulate, simulator, type SimulateOptions } from "./engine/simulate.js";
export { eachSpell, type OpeningRecord, type SceneRecord, type Trace } from "./engine/record.js";
export { RunTooLongError } from "./engine/limits.js";
export { NOMINAL, type Build } from "./timers/build.js";
export { boardTimes, type BoardTimes } from "./timers/nominal.js";
export { figures, type Figures } from "./figures/index.js";
export { InputError } from "./errors.js";
export { checkPromises, type PromiseResult } from "./promises/index.js";
export { ratings, ratingNotes, type Rating, type Note } from "./ratings/index.js";
export { advise, type Advice } from "./planning/advice.js";
export { boardPairs, type BoardPair } from "./planning/pairs.js";
export { planParts, parseStock, type PartsAnswer, type PartsRequest } from "./planning/timerparts/index.js";
export { buildOf, spread, type Spread } from "./spread/index.js";
export { arbitraryBuild, hunt, keepsPromise, parseBuild, type Quarry } from "./hunt/index.js";
