/** lampdrift as a library where there is no Node: all that needs neither files nor threads. */
export type * from "./model/scenario.js";
export type * from "./model/timer.js";
export type { Wishes } from "./model/wishes.js";
export type { Micros, Seconds } from "./units/time.js";
export { InputError } from "./errors.js";
export { parseScenario, scenarioJsonSchema } from "./scenario/read.js";
export { ScenarioError, type Problem } from "./scenario/problems.js";
export { simulate, simulator, type Disorder, type SimulateOptions } from "./engine/simulate.js";
export { eachSpell, type OpeningRecord, type SceneRecord, type Trace } from "./engine/record.js";
export type { Scenes } from "./engine/sceneset.js";
export { RunTooLongError } from "./engine/limits.js";
export type { Crew, Hire, Job, Terms } from "./crew/crew.js";
export { NOMINAL, type Build } from "./timers/build.js";
export { boardTimes, type BoardTimes } from "./timers/boardtimes.js";
export type { Clockwork } from "./timers/clockwork.js";
export type { Reach } from "./timers/trim.js";
export { figures, type Figures } from "./figures/index.js";
export type { AnyHourFigures } from "./figures/anyhour.js";
export type { BoardFigures } from "./figures/boards.js";
export type { Better, FigureKey, FigureUnit } from "./figures/headlines.js";
export type { HouseFigures, LitFigures, ZoneFigures } from "./figures/houses.js";
export type { Echo, RepeatFigures, RepeatPoint } from "./figures/repeat.js";
export type { SceneFigures } from "./figures/scenes.js";
export type { StayPoint, VisitFigures } from "./figures/visit.js";
export { checkPromises, type Break, type PromiseResult, type PromiseUnit } from "./promises/index.js";
export { LARGEST_SHARE, ratings, ratingNotes, type Note, type Rating, type RatingVerdict } from "./ratings/index.js";
export type { Moment } from "./ratings/demand.js";
export { advise, type Advice } from "./planning/advice.js";
export type { DayAdvice, SameDays } from "./planning/days.js";
export type { Change, NoOtherStepAdvice, OtherStepAdvice } from "./planning/othersteps.js";
export type { CommonReturn, EchoAdvice, OneClockAdvice, ReturningBoard } from "./planning/echoes.js";
export { boardPairs, type Approximation, type BoardPair } from "./planning/pairs.js";
export {
  parseStock,
  PartsRequestError,
  planParts,
  StockError,
  type Choice,
  type PartsAnswer,
  type PartsRequest,
  type Range,
} from "./timerparts/index.js";
export type { ChipName } from "./timerparts/request.js";
export type { ResistorType, Shelf, ShelfCapacitor, ShelfPart, ShelfResistor, ShelfTrimmer } from "./timerparts/shelf.js";
export type { Stock, StockProblem } from "./timerparts/stock.js";
export type { CapacitorType } from "./parts/leakage.js";
export { buildOf } from "./builds/draw.js";
export { arbitraryBuild, hunt, keepsPromise, parseBuild, type HuntOptions, type HuntResult } from "./hunt/index.js";
export type { LogRow } from "./fit/log.js";
export { fitLog, parseLog, type BoardLog, type FitOptions, type FittedBoard, type Residual } from "./fit/index.js";
export type { StepRange } from "./knob/settings.js";
export { tune, type LookedAt, type ScoreMap, type TunedSetting, type TuneOptions, type Tuning } from "./tune/index.js";
export type { MeasuredAdvice } from "./tune/advice.js";
export type { PromiseKept } from "./tune/judge.js";
export type { Axis } from "./tune/map.js";
export type { Proportion } from "./statistics/intervals.js";
